/** Live small pictures, made from a small copy of each frame in a worker of their own. */

/** @import { Doc, FrameId, ReelFrame, SmallCopy, StageId, State } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

import { Superseded, reasonOf } from "../bridge/bridge.js";
import { onReel } from "../pure/history.js";
import { docUpTo } from "../pure/without.js";
import { READ_BACK, paint } from "../ui/picture/side.js";
import { renderSettings } from "./render-settings.js";

/**
 * @param {{ bridge: Bridge, reader: () => Bridge, state: () => State, stages: Map<StageId, HTMLCanvasElement>,
 *   inputs: { stage: StageId, before: string, canvas: HTMLCanvasElement }[],
 *   reelThumb: (id: FrameId) => HTMLCanvasElement | null,
 *   fileOf: (frame: ReelFrame) => Promise<Blob>,
 *   onfailed: (id: FrameId, reason: string) => void, onproblem: (error: unknown) => void }} wiring
 *   onfailed: a frame can't be read
 */
export function createThumbs({ bridge, reader, state, stages, inputs, reelThumb, fileOf, onfailed, onproblem }) {
  /** @type {Map<string, string>} */
  const done = new Map();
  /** @type {Set<FrameId>} */
  const adopted = new Set();
  let busy = false;
  let adopting = false;
  /** They wait until the picture itself is there, and while a control moves. */
  let begun = false;

  /** @returns {{ name: string, key: string, id: FrameId, stage: StageId, canvas: HTMLCanvasElement, doc: Doc }[]} */
  function wanted() {
    const { history, reel, current, openStage, catalogue } = state();
    const jobs = [];
    const doc = history.present;
    const key = (/** @type {ReelFrame} */ frame, from = doc) => Object.values(renderSettings(from, frame.id)).join("\n");
    const shown = reel.find((frame) => frame.id === current && adopted.has(frame.id));
    if (shown) {
      for (const [stage, canvas] of stages) jobs.push({ name: stage, key: `${shown.id}\n${key(shown)}`, id: shown.id, stage, canvas, doc });
      for (const { stage, before, canvas } of inputs) {
        if (openStage !== stage || !catalogue) continue;
        const cut = docUpTo(catalogue, doc, stage, before);
        jobs.push({ name: `before ${before}`, key: `${shown.id}\n${key(shown, cut)}`, id: shown.id, stage, canvas, doc: cut });
      }
    }
    for (const frame of reel) {
      const canvas = reelThumb(frame.id);
      if (canvas && adopted.has(frame.id)) jobs.push({ name: `reel ${frame.id}`, key: key(frame), id: frame.id, stage: /** @type {const} */ ("screen"), canvas, doc });
    }
    return jobs;
  }

  async function work() {
    if (busy || !begun) return;
    busy = true;
    while (!state().dragging && state().moving === "no") {
      const job = wanted().find(({ name, key }) => done.get(name) !== key);
      if (!job) break;
      done.set(job.name, job.key);
      try {
        const settings = renderSettings(job.doc, job.id);
        const shown = await bridge.ask("thumb", { id: job.id, stage: job.stage, settings });
        // A stage's picture is of the frame that is looked at now, and no other.
        if (!job.name.startsWith("reel ") && state().current !== job.id) continue;
        paint(job.canvas, shown, READ_BACK);
        job.canvas.dispatchEvent(new Event("painted"));
      } catch (error) {
        if (!(error instanceof Superseded)) onproblem(error);
      }
    }
    busy = false;
  }

  /** A frame on the reel that was known before and has no small copy yet. */
  function next() {
    const { reel, history } = state();
    return onReel(reel, history.present).find((frame) => !adopted.has(frame.id) && frame.stage === "ready");
  }

  /** Makes small copies of the frames that have not been opened yet, one after the other. */
  async function adoptOthers() {
    if (adopting || !begun) return;
    adopting = true;
    for (let frame = next(); frame; frame = next()) {
      const { id, name } = frame;
      try {
        const { copy } = await reader().ask("lookAt", { name, file: await fileOf(frame) });
        await adopt(id, copy);
      } catch (error) {
        if (error instanceof Superseded) continue;
        if (!adopted.has(id)) onfailed(id, reasonOf(error));
        // It is looked at again when it is chosen again.
        if (next()?.id === id) break;
      }
    }
    adopting = false;
  }

  /**
   * Takes a frame's small copy over.
   * @param {FrameId} id
   * @param {SmallCopy} copy as the picture's worker gave it
   */
  async function adopt(id, copy) {
    await bridge.ask("adopt", { id, copy });
    adopted.add(id);
    for (const name of [...done.keys()]) if (name === `reel ${id}` || !name.startsWith("reel ")) done.delete(name);
    work();
  }

  return {
    adopt,
    work() {
      work();
      adoptOthers();
    },
    /** From now on they are made. @returns {boolean} whether that is new */
    begin() {
      if (begun) return false;
      begun = true;
      this.work();
      return true;
    },
    /** Makes all of them again in a worker that had to be replaced. */
    adoptAgain() {
      adopted.clear();
      done.clear();
      adoptOthers();
    },
  };
}
