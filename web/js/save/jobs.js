/**
 * Long work, in workers of its own: the page stays quick meanwhile, and since a worker can't hear
 * while it works, to cancel is to end the workers.
 */

/** @import { Core } from "../../types.js" */
/** @import { Development } from "./develop.js" */

import { Bridge } from "../bridge/bridge.js";

/** @typedef {ReturnType<typeof createJobRunner>} JobRunner */
/** @typedef {[Bridge, ...Bridge[]]} Workers */

/** How long a worker may be silent, in ms: some files are made in one go, and whoever waits can cancel. */
const SILENCE = 15 * 60_000;

/** What cancelled work rejects with. */
export class Cancelled extends Error {}

/** @param {Core} core */
export function createJobRunner(core) {
  let busy = false;
  /** What is begun before it is asked for. @type {{ key: string, workers: Workers, work: Development } | null} */
  let ahead = null;
  const worker = () => new Bridge(core, { silence: SILENCE, whole: true });
  /** @type {(count: number) => Workers} */
  const begin = (count) => [worker(), ...Array.from({ length: count - 1 }, worker)];
  const end = (/** @type {Bridge[]} */ workers) => workers.forEach((worker) => worker.end(new Cancelled()));

  /** Cancels what was begun before it was asked for. */
  function rest() {
    if (!ahead) return;
    end(ahead.workers);
    ahead.work.drop();
    ahead = null;
  }

  return {
    /**
     * Begins what will probably be wanted; {@link start} with the same key goes on with it.
     * @param {string} key
     * @param {number} count how many workers it takes
     * @param {(workers: Workers) => Development} work
     */
    prepare(key, count, work) {
      if (busy || ahead?.key === key) return;
      rest();
      const workers = begin(count);
      ahead = { key, workers, work: work(workers) };
    },

    rest,

    busy: () => busy,

    /**
     * @template T
     * @param {number} count how many workers it takes
     * @param {(workers: Workers, begun?: Development) => Promise<T>} work is handed what was begun with this key
     * @param {string} [key]
     * @returns {{ result: Promise<T>, cancel: () => void }} `cancel` makes the result reject with {@link Cancelled}
     */
    start(count, work, key) {
      if (busy) throw new Error("Something is being saved already; wait for it, or cancel it.");
      busy = true;
      const begun = ahead?.key === key ? ahead : null;
      if (begun) ahead = null;
      else rest();
      const workers = begun?.workers ?? begin(count);
      const cancel = () => end(workers);
      const result = work(workers, begun?.work).finally(() => {
        busy = false;
        cancel();
      });
      return { result, cancel };
    },
  };
}
