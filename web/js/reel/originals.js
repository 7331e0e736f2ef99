/** Where a frame's bytes are: on the page's server, in the person's own file, or in the store. */

/** @import { FrameId, ReelFrame } from "../../types.js" */

import { stillFile } from "../clip/decoder.js";
import { fetchBlob } from "./fetched.js";

/** @typedef {(id: FrameId) => Promise<Blob | null>} ReadKept */
/** @typedef {ReturnType<typeof createSources>} Sources */

/** @param {ReadKept} readKept */
export function createSources(readKept) {
  /** @param {ReelFrame} frame @returns {Promise<Blob>} rejects with one sentence */
  async function originalOf({ id, url, file }) {
    if (url) return fetchBlob(url);
    const found = file ?? (await readKept(id));
    if (!found) throw new Error("its original is not in this browser's store any more; open the file again");
    return found;
  }

  return {
    originalOf,
    /**
     * A frame as a picture's file: of a clip, the frame that is looked at, as a PNG.
     * @param {ReelFrame} frame
     * @returns {Promise<Blob>} rejects with one sentence
     */
    async fileOf(frame) {
      const original = await originalOf(frame);
      return frame.clip ? stillFile(original, frame.clip) : original;
    },
  };
}
