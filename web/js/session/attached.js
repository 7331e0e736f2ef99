/**
 * What belongs to the work beside the document: versions of the look, answers to a review. Each topic
 * has one value of plain JSON, with a version of its own, which its module checks when it reads it.
 * It is kept with the session and goes out in its file; undo leaves it alone.
 */

/** @import { Store } from "./store.js" */

/**
 * @param {Store} store
 * @param {string} topic
 * @param {unknown} value in place of the one before; undefined takes it away
 */
export function attach(store, topic, value) {
  const { [topic]: _, ...others } = store.get().attached;
  store.set({ attached: value === undefined ? others : { ...others, [topic]: value } });
}
