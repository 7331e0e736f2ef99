/**
 * Small renderings of frames through any look, in workers of their own: each takes over a copy of the
 * frame at the size that is wanted, made once, and renders it through one look after the other.
 */

/** @import { Core, ReelFrame, RenderSettings, Shown, Size, SmallCopy, StageId } from "../../types.js" */

import { Bridge, Superseded, reasonOf } from "../bridge/bridge.js";

/** @typedef {ReturnType<typeof createRenderers>} Renderers */

/**
 * A rendering that is wanted. Whoever wants it no longer does so once it was taken or has failed.
 * @typedef {object} Wish
 * @property {string} key tells it from every other
 * @property {ReelFrame} frame
 * @property {Size} box device pixels that it fits into
 * @property {RenderSettings} settings
 * @property {StageId} stage
 * @property {(shown: Shown) => void} take
 * @property {(reason: string) => void} fail
 */

const WORKERS = Math.min(4, Math.max(2, (navigator.hardwareConcurrency || 2) - 1));
/** Workers end after this time without a user, in ms, and what they took of memory goes with them. */
const REST = 10_000;
/** How many copies are kept, here and in each worker. */
const COPIES = 8;
/** How often one rendering is tried in workers that break off. */
const TRIES = 3;

/**
 * @param {{ core: Core, source: Bridge, reader: () => Bridge, isHeld: (id: string) => boolean,
 *   fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring source: the worker that holds the current frame
 */
export function createRenderers({ core, source, reader, isHeld, fileOf }) {
  /** @type {{ bridge: Bridge, copies: string[], busy: boolean }[]} */
  const workers = [];
  /** The newest last. @type {(() => Wish[])[]} */
  const users = [];
  /** @type {Map<string, Promise<SmallCopy>>} */
  const copies = new Map();
  /** What is being rendered. @type {Set<string>} */
  const begun = new Set();
  let timer = 0;

  /** @param {Wish} wish */
  const copyKey = ({ frame, box }) => `${frame.id}|${frame.clip?.number ?? ""}|${box.width}x${box.height}`;

  /** @param {Wish} wish @returns {Promise<SmallCopy>} */
  function copyOf(wish) {
    const key = copyKey(wish);
    let copy = copies.get(key);
    copies.delete(key);
    copy ??= makeCopy(wish);
    copies.set(key, copy);
    copy.catch(() => copies.delete(key));
    for (const old of [...copies.keys()].slice(0, -COPIES)) copies.delete(old);
    return copy;
  }

  /** @param {Wish} wish @returns {Promise<SmallCopy>} */
  async function makeCopy({ frame, box }) {
    if (isHeld(frame.id)) {
      try {
        return await source.ask("copy", { id: frame.id, box });
      } catch (error) {
        // Another frame was chosen meanwhile.
        if (!(error instanceof Superseded)) throw error;
      }
    }
    const { copy } = await reader().ask("lookAt", { name: frame.name, file: await fileOf(frame), box });
    return frame.clip ? { ...copy, number: frame.clip.number } : copy;
  }

  /**
   * @param {typeof workers[number]} worker
   * @param {Wish} wish
   * @returns {Promise<Shown>}
   */
  async function render(worker, wish) {
    const id = copyKey(wish);
    const copy = await copyOf(wish);
    if (!worker.copies.includes(id)) {
      await worker.bridge.ask("adopt", { id, copy });
      worker.copies.push(id);
      for (const old of worker.copies.splice(0, worker.copies.length - COPIES)) worker.bridge.ask("drop", { id: old }).catch(() => {});
    }
    const { width, height } = copy;
    return worker.bridge.ask("preview", { id, settings: wish.settings, stage: wish.stage, width, height, quick: false });
  }

  function begin() {
    clearTimeout(timer);
    while (workers.length < WORKERS) {
      const bridge = new Bridge(core);
      const worker = { bridge, copies: /** @type {string[]} */ ([]), busy: false };
      bridge.onlost = () => worker.copies.splice(0);
      workers.push(worker);
    }
  }

  function rest() {
    if (users.length > 0) return;
    for (const { bridge } of workers.splice(0)) bridge.end(new Superseded());
    copies.clear();
  }

  /** The wish that is worth most now: of the newest user, its first. */
  function next() {
    for (const wanted of [...users].reverse()) {
      const wish = wanted().find(({ key }) => !begun.has(key));
      if (wish) return wish;
    }
    return null;
  }

  /** @param {typeof workers[number]} worker */
  async function go(worker) {
    if (worker.busy) return;
    worker.busy = true;
    /** @type {Map<string, number>} */
    const tries = new Map();
    for (let wish = next(); wish; wish = next()) {
      const { key } = wish;
      begun.add(key);
      try {
        wish.take(await render(worker, wish));
      } catch (error) {
        const tried = (tries.get(key) ?? 0) + 1;
        tries.set(key, tried);
        // A worker that had to be replaced is asked again; one that was ended has nobody who waits.
        if (!(error instanceof Superseded) || tried >= TRIES) wish.fail(reasonOf(error));
      }
      begun.delete(key);
    }
    worker.busy = false;
  }

  function work() {
    if (users.length > 0) for (const worker of workers) go(worker);
  }

  return {
    /**
     * @param {() => Wish[]} wanted what is wanted at the moment, the most urgent first; read each time
     *   that a worker is free, so nothing stale is begun
     */
    use(wanted) {
      users.push(wanted);
      begin();
      return {
        /** Something else is wanted. */
        work,
        close() {
          const at = users.indexOf(wanted);
          if (at >= 0) users.splice(at, 1);
          clearTimeout(timer);
          if (users.length === 0) timer = setTimeout(rest, REST);
          else work();
        },
      };
    },

    /** How many workers there are at present. */
    count: () => workers.length,
  };
}
