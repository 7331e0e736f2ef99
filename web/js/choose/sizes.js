/** How large frames are: also of those that nobody has opened yet. */

/** @import { FrameId, ReelFrame, Size } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

import { Superseded } from "../bridge/bridge.js";

/** @typedef {ReturnType<typeof createSizes>} Sizes */

/** How often one is looked at in workers that are replaced. */
const TRIES = 3;

/** @param {{ reader: () => Bridge, fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring */
export function createSizes({ reader, fileOf }) {
  /** null: the frame can't be read. @type {Map<FrameId, Size | null>} */
  const found = new Map();
  let turn = 0;

  /** @param {ReelFrame} frame */
  async function look(frame) {
    for (let tried = 0; tried < TRIES; tried += 1) {
      try {
        const { info } = await reader().ask("lookAt", { name: frame.name, file: await fileOf(frame) });
        return found.set(frame.id, { width: info.width, height: info.height });
      } catch (error) {
        if (!(error instanceof Superseded)) return found.set(frame.id, null);
      }
    }
  }

  return {
    /** @param {ReelFrame} frame @returns {Size | null} null if it is not known, or not yet */
    of: ({ id, info }) => info ?? found.get(id) ?? null,

    /** @param {ReelFrame} frame @returns {boolean} whether it was looked at, and can't be read */
    unreadable: ({ id, info }) => !info && found.get(id) === null,

    /**
     * Looks at those that are not known, one after the other; what an earlier watch is still at is left.
     * @param {readonly ReelFrame[]} frames
     * @param {() => boolean} wanted whether anybody still waits
     * @param {() => void} onfound another one is known, or none is left to look at
     * @returns {() => boolean} whether more may become known
     */
    watch(frames, wanted, onfound) {
      const own = (turn += 1);
      let looking = true;
      // What could not be read before may be within reach by now.
      for (const [id, size] of found) if (!size) found.delete(id);
      const run = async () => {
        for (const frame of frames) {
          if (frame.info || found.has(frame.id)) continue;
          await look(frame);
          if (own !== turn || !wanted()) return;
          onfound();
        }
        looking = false;
        onfound();
      };
      void run();
      return () => looking;
    },
  };
}
