/** Endless undo and redo over immutable documents; one gesture makes one entry. */

/** @import { Doc, History } from "../../types.js" */

/**
 * @param {Doc} present
 * @returns {History}
 */
export function begin(present) {
  return { past: [], present, future: [], gesture: null };
}

/**
 * @param {History} history
 * @param {Doc} doc
 * @param {string | null} gesture edits in a row that name the same gesture are undone together
 * @returns {History}
 */
export function record(history, doc, gesture = null) {
  if (doc === history.present) return history;
  const joined = gesture !== null && gesture === history.gesture;
  const past = joined ? history.past : [...history.past, history.present];
  return { past, present: doc, future: [], gesture };
}

/**
 * Replaces the document without an entry: for what isn't an edit, such as another frame's arrival.
 * @param {History} history
 * @param {Doc} present
 * @returns {History}
 */
export function amend(history, present) {
  return { ...history, present };
}

/**
 * Ends a gesture, so that the next edit makes an entry of its own.
 * @param {History} history
 * @returns {History}
 */
export function settle(history) {
  return history.gesture === null ? history : { ...history, gesture: null };
}

/**
 * @param {History} history
 * @returns {History}
 */
export function undo(history) {
  const present = history.past.at(-1);
  if (!present) return history;
  const future = [history.present, ...history.future];
  return { past: history.past.slice(0, -1), present, future, gesture: null };
}

/**
 * @param {History} history
 * @returns {History}
 */
export function redo(history) {
  const [present, ...future] = history.future;
  if (!present) return history;
  return { past: [...history.past, history.present], present, future, gesture: null };
}
