/** Workers for the frames of a clip while it plays: each frame goes to whichever has least to do. */

/** @import { Answer, Asked, Core } from "../../types.js" */

import { Bridge } from "../bridge/bridge.js";

export const WORKERS = Math.min(4, Math.max(2, (navigator.hardwareConcurrency || 2) - 1));

/** @param {Core} core */
export function createPool(core) {
  /** `pending`: frames that it has been given. @type {{ bridge: Bridge, pending: number }[]} */
  const workers = [];

  return {
    /** @returns {((asked: Asked<"clipFrame">) => Promise<Answer<"clipFrame">>) | null} null if all have enough to do */
    idlest() {
      while (workers.length < WORKERS) workers.push({ bridge: new Bridge(core, { whole: true }), pending: 0 });
      const pending = workers.reduce((sum, worker) => sum + worker.pending, 0);
      // One more than there are workers, so that none has to wait for the next frame.
      if (pending > WORKERS) return null;
      const worker = workers.reduce((least, it) => (it.pending < least.pending ? it : least));
      return async (asked) => {
        worker.pending += 1;
        try {
          return await worker.bridge.ask("clipFrame", asked, { transfer: [asked.pixels.buffer] });
        } finally {
          worker.pending -= 1;
        }
      };
    },
  };
}
