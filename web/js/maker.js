/**
 * Long work, in a worker of its own: the page stays quick meanwhile, and since a worker can't hear
 * while it works, giving up is ending the worker.
 */

import { Bridge } from "./bridge.js";

/** @typedef {ReturnType<typeof createMaker>} Maker */
/** @typedef {{ done: number, total: number }} News how far work is */
/** @typedef {(news: News) => void} OnStep */

/** What giving up rejects with. */
export class GivenUp extends Error {}

/** @param {Promise<WebAssembly.Module>} core */
export function createMaker(core) {
  let busy = false;
  return {
    /**
     * @template T
     * @param {(worker: Bridge) => Promise<T>} work
     * @returns {{ result: Promise<T>, giveUp: () => void }} `giveUp` makes the result reject with {@link GivenUp}
     */
    start(work) {
      if (busy) throw new Error("Something is being saved already; wait for it, or cancel it.");
      busy = true;
      const worker = new Bridge(core);
      const result = work(worker).finally(() => {
        busy = false;
        worker.end(new GivenUp());
      });
      return { result, giveUp: () => worker.end(new GivenUp()) };
    },
  };
}
