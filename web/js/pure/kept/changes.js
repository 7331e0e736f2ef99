/** A history as it is kept: the oldest document whole, and of each later one what differs. */

/** @import { Doc, FrameId, History, LookData, StageSettings } from "../../../types.js" */

/**
 * What differs between two documents in a row. Parts are whole: a look, a delivery, one frame's settings.
 * @typedef {{ look?: LookData, delivery?: StageSettings, frames?: Record<FrameId, StageSettings>, away?: readonly FrameId[], made?: string }} Change
 */

/**
 * @param {Doc} from
 * @param {Doc} to
 * @returns {Change}
 */
export function changeBetween(from, to) {
  /** @type {Change} */
  const change = {};
  if (to.look !== from.look) change.look = to.look;
  if (to.delivery !== from.delivery) change.delivery = to.delivery;
  if (to.frames !== from.frames) {
    const changed = Object.entries(to.frames).filter(([id, settings]) => settings !== from.frames[id]);
    if (changed.length > 0) change.frames = Object.fromEntries(changed);
  }
  if (to.away !== from.away) change.away = to.away ?? [];
  if (to.made) change.made = to.made;
  return change;
}

/**
 * @param {Doc} doc
 * @param {Change} change
 * @param {number} step
 * @returns {Doc}
 */
export function changed(doc, { look, delivery, frames, away, made }, step) {
  const { made: _, ...rest } = doc;
  return {
    ...rest,
    ...(look ? { look } : {}),
    ...(delivery ? { delivery } : {}),
    ...(frames ? { frames: { ...doc.frames, ...frames } } : {}),
    ...(away ? { away } : {}),
    ...(made ? { made } : {}),
    step,
  };
}

/**
 * @param {Doc} base the oldest document
 * @param {readonly Change[]} changes
 * @param {number} position how many of them are done
 * @returns {History}
 */
export function historyOf(base, changes, position) {
  let last = /** @type {Doc} */ ({ ...base, step: 0 });
  const docs = [last];
  changes.forEach((change, i) => docs.push((last = changed(last, change, i + 1))));
  const at = Math.min(Math.max(0, position), changes.length);
  return {
    past: docs.slice(0, at),
    present: docs[at] ?? last,
    future: docs.slice(at + 1),
    gesture: null,
    serial: changes.length,
  };
}

/**
 * Every document of a history, the oldest first.
 * @param {History} history
 * @returns {Doc[]}
 */
export const docsOf = ({ past, present, future }) => [...past, present, ...future];

/**
 * The index of the first document that is another one than what was written before.
 * @param {readonly Doc[]} docs
 * @param {readonly number[]} written their steps
 */
export function firstNew(docs, written) {
  let i = 0;
  while (i < docs.length && i < written.length && docs[i]?.step === written[i]) i += 1;
  return i;
}
