/** Which frames that were taken off the reel undo and redo can still bring back. */

/** @import { Doc, FrameId } from "../../../types.js" */

/**
 * Frames that no document of the history shows: nothing can bring them back.
 * @param {readonly Doc[]} docs all that undo and redo can go to
 * @returns {Set<FrameId>}
 */
export function outOfReach(docs) {
  // Documents in a row mostly share their list.
  const [first, ...others] = new Set(docs.map(({ away = [] }) => away));
  const gone = new Set(first);
  for (const away of others) {
    if (gone.size === 0) break;
    const here = new Set(away);
    for (const id of gone) if (!here.has(id)) gone.delete(id);
  }
  return gone;
}
