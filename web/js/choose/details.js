/** Parts of frames at full size, for a comparison that is looked into: rendered exactly, in a worker of its own. */

/** @import { Box, Core, ReelFrame, RenderSettings, Shown, StageId } from "../../types.js" */

import { Bridge, Superseded, reasonOf } from "../bridge/bridge.js";

/**
 * A part that is wanted.
 * @typedef {object} Detail
 * @property {string} key tells it from every other
 * @property {ReelFrame} frame
 * @property {RenderSettings} settings
 * @property {StageId} stage
 * @property {Box} part in pixels of the frame
 * @property {(shown: Shown) => void} take
 */

/**
 * @param {{ core: Core, fileOf: (frame: ReelFrame) => Promise<Blob>, onproblem: (reason: string) => void }} wiring
 */
export function createDetails({ core, fileOf, onproblem }) {
  /** @type {Bridge | null} */
  let bridge = null;
  /** Which frame the worker holds. */
  let held = "";
  /** @type {Detail[]} */
  let wishes = [];
  let busy = false;

  /** @param {Bridge} worker @param {Detail} wish */
  async function make(worker, { frame, settings, stage, part }) {
    const { id, name, clip } = frame;
    const key = `${id} ${clip?.number ?? ""}`;
    if (held !== key) {
      held = "";
      await worker.ask("open", { id, name, file: await fileOf(frame), ...(clip ? { number: clip.number } : {}) });
      held = key;
    }
    return worker.ask("detail", { id, settings, stage, part });
  }

  async function work() {
    if (busy) return;
    busy = true;
    for (let wish = wishes[0]; wish && bridge; wish = wishes[0]) {
      const worker = bridge;
      try {
        const shown = await make(worker, wish);
        // Nothing yet: more of the picture has to be gone through, unless something else is wanted by now.
        if (shown && worker === bridge && isWanted(wish)) wish.take(shown);
        if (shown) done(wish);
      } catch (error) {
        if (isWanted(wish) && !(error instanceof Superseded)) onproblem(reasonOf(error));
        done(wish);
      }
    }
    busy = false;
  }

  /** @param {Detail} wish */
  const isWanted = (wish) => wishes.some(({ key }) => key === wish.key);

  /** @param {Detail} wish */
  function done(wish) {
    wishes = wishes.filter(({ key }) => key !== wish.key);
  }

  return {
    /** @param {Detail[]} wanted all that is wanted by now */
    want(wanted) {
      wishes = wanted;
      if (wishes.length === 0) return;
      bridge ??= new Bridge(core);
      bridge.onlost = bridge.ongrown = () => (held = "");
      void work();
    },
    /** Its memory is given back. */
    close() {
      wishes = [];
      bridge?.end(new Superseded());
      bridge = null;
      held = "";
    },
  };
}
