/**
 * Long work, in workers of its own: the page stays quick meanwhile, and since a worker can't hear
 * while it works, giving up is ending the workers.
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
  /** Workers that are begun before they are wanted. @type {Bridge[]} */
  const waiting = [];
  const rest = () => waiting.splice(0).forEach((worker) => worker.end(new GivenUp()));
  return {
    /** @param {number} count how many workers will be wanted soon */
    prepare(count) {
      while (!busy && waiting.length < count) waiting.push(new Bridge(core));
    },

    /** Ends the workers that are waiting. */
    rest,

    /**
     * @template T
     * @param {number} count how many workers it takes
     * @param {(workers: Bridge[]) => Promise<T>} work
     * @returns {{ result: Promise<T>, giveUp: () => void }} `giveUp` makes the result reject with {@link GivenUp}
     */
    start(count, work) {
      if (busy) throw new Error("Something is being saved already; wait for it, or cancel it.");
      busy = true;
      const workers = Array.from({ length: count }, () => waiting.pop() ?? new Bridge(core));
      rest();
      const giveUp = () => workers.forEach((worker) => worker.end(new GivenUp()));
      const result = work(workers).finally(() => {
        busy = false;
        giveUp();
      });
      return { result, giveUp };
    },
  };
}
