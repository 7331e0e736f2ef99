/** How large frames are: also of those that nobody has opened yet. */

/** @import { FrameId, ReelFrame, Size } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

/** @typedef {ReturnType<typeof createSizes>} Sizes */

/** @param {{ reader: () => Bridge, fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring */
export function createSizes({ reader, fileOf }) {
  /** null: it can't be known. @type {Map<FrameId, Size | null>} */
  const found = new Map();

  return {
    /** @param {ReelFrame} frame @returns {Size | null} null if it is not known, or not yet */
    of: ({ id, info }) => info ?? found.get(id) ?? null,

    /**
     * Looks at those that are not known, one after the other.
     * @param {readonly ReelFrame[]} frames
     * @param {() => boolean} onfound another one is known; false: nobody waits any more
     */
    async find(frames, onfound) {
      for (const { id, name, info, ...frame } of frames) {
        if (info || found.has(id)) continue;
        const size = await fileOf({ id, name, ...frame }).then((file) => reader().ask("lookAt", { name, file })).then((opened) => opened.info, () => null);
        found.set(id, size && { width: size.width, height: size.height });
        if (!onfound()) return;
      }
    },
  };
}
