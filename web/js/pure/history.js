/** Endless undo and redo over immutable documents; one gesture makes one entry. */

/** @import { Doc, FrameId, History, StageSettings } from "../../types.js" */

/**
 * @param {Doc} present
 * @returns {History}
 */
export function begin(present) {
  return { past: [], present, future: [], gesture: null, serial: present.step ?? 0 };
}

/**
 * @param {History} history
 * @param {Doc} doc
 * @param {string | null} gesture edits in a row that name the same gesture are undone together
 * @param {string} [made] what the edit did
 * @returns {History}
 */
export function record(history, doc, gesture = null, made) {
  if (doc === history.present) return history;
  const joined = gesture !== null && gesture === history.gesture;
  const past = joined ? history.past : [...history.past, history.present];
  const serial = history.serial + 1;
  const { made: _, ...rest } = doc;
  return { past, present: { ...rest, step: serial, ...(made ? { made } : {}) }, future: [], gesture, serial };
}

/**
 * Gives a frame that has just arrived its settings in every document, so that undoing what was done
 * before it came leaves them alone. It is no edit.
 * @param {History} history
 * @param {FrameId} id
 * @param {StageSettings} settings
 * @returns {History}
 */
export function arrive(history, id, settings) {
  /** @param {Doc} doc */
  const withFrame = (doc) => ({ ...doc, frames: { ...doc.frames, [id]: settings } });
  const { past, present, future } = history;
  return { ...history, past: past.map(withFrame), present: withFrame(present), future: future.map(withFrame) };
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
  return { ...history, past: history.past.slice(0, -1), present, future, gesture: null };
}

/**
 * @param {History} history
 * @returns {History}
 */
export function redo(history) {
  const [present, ...future] = history.future;
  if (!present) return history;
  return { ...history, past: [...history.past, history.present], present, future, gesture: null };
}

/**
 * Several entries at once.
 * @param {History} history
 * @param {number} by entries onwards, or back if it is below zero; it stops at either end
 * @returns {History}
 */
export function jump(history, by) {
  let now = history;
  for (let i = 0; i < Math.abs(by); i += 1) now = by < 0 ? undo(now) : redo(now);
  return now;
}

/**
 * The frames that stand on the reel.
 * @template {{ id: FrameId }} T
 * @param {readonly T[]} frames
 * @param {Doc} doc
 * @returns {readonly T[]}
 */
export function onReel(frames, { away = [] }) {
  if (away.length === 0) return frames;
  const gone = new Set(away);
  return frames.filter(({ id }) => !gone.has(id));
}
