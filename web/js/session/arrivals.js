/** Files that a person brings, sorted by what they are: frames, looks, tables, sessions. */

/** @import { Edits } from "./edits.js" */
/** @import { Store } from "./store.js" */
/** @import { DeskWork } from "../kept/desk-work.js" */
/** @import { Incoming } from "../look/incoming.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Notices } from "../ui/notices.js" */

import { reasonOf } from "../bridge/bridge.js";

/**
 * @param {{ store: Store, frames: Frames, incoming: Incoming, deskWork: DeskWork, edits: Edits, notices: Notices }} wiring
 */
export function createArrivals({ store, frames, incoming, deskWork, edits, notices }) {
  /** @param {File} file */
  async function takeLook(file) {
    edits.setLook(await incoming.look(file));
    notices.say(`The look of ${file.name} is on; undo brings the one before back.`);
  }

  /**
   * @param {File} file
   * @returns {((file: File) => Promise<void>) | null} null if it is a frame, or wants to be one
   */
  function takerOf({ name }) {
    if (/\.json$/i.test(name)) return takeLook;
    if (/\.(cube|clf|cdl|cc|ccc)$/i.test(name)) return incoming.table;
    if (/\.zip$/i.test(name)) return deskWork.takeIn;
    return null;
  }

  /** @param {File[]} files in any order */
  return async function arrive(files) {
    frames.open(files.filter((file) => !takerOf(file)));
    for (const file of files) {
      try {
        await takerOf(file)?.(file);
      } catch (error) {
        store.set({ failures: [...store.get().failures, { name: file.name, reason: reasonOf(error) }] });
      }
    }
  };
}
