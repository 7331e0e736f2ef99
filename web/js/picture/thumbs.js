/** Live small pictures, made from a small copy of each frame in a worker of their own. */

/** @import { FrameId, ReelFrame, SmallCopy, StageId, State } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

import { fileOf } from "../reel/frames.js";
import { READ_BACK, paint } from "../ui/picture/side.js";
import { renderSettings } from "./render-settings.js";

/**
 * @param {{ bridge: Bridge, state: () => State, stages: Map<StageId, HTMLCanvasElement>,
 *   reelThumb: (id: FrameId) => HTMLCanvasElement | null, onproblem: (error: unknown) => void }} wiring
 */
export function createThumbs({ bridge, state, stages, reelThumb, onproblem }) {
  /** @type {Map<string, string>} */
  const done = new Map();
  /** @type {Set<FrameId>} */
  const adopted = new Set();
  let busy = false;
  /** They wait until the picture itself is there, and while a control moves. */
  let begun = false;

  /** @returns {{ name: string, key: string, id: FrameId, stage: StageId, canvas: HTMLCanvasElement }[]} */
  function wanted() {
    const { history, reel, current } = state();
    const jobs = [];
    const key = (/** @type {ReelFrame} */ frame) => Object.values(renderSettings(history.present, frame.id)).join("\n");
    const shown = reel.find((frame) => frame.id === current && adopted.has(frame.id));
    if (shown) {
      for (const [stage, canvas] of stages) jobs.push({ name: stage, key: `${shown.id}\n${key(shown)}`, id: shown.id, stage, canvas });
    }
    for (const frame of reel) {
      const canvas = reelThumb(frame.id);
      if (canvas && adopted.has(frame.id)) jobs.push({ name: `reel ${frame.id}`, key: key(frame), id: frame.id, stage: /** @type {const} */ ("screen"), canvas });
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
        const settings = renderSettings(state().history.present, job.id);
        const shown = await bridge.ask("thumb", { id: job.id, stage: job.stage, settings });
        paint(job.canvas, shown, READ_BACK);
        job.canvas.dispatchEvent(new Event("painted"));
      } catch (error) {
        onproblem(error);
      }
    }
    busy = false;
  }

  /** Makes small copies of the frames that have not been opened yet, one after the other. */
  async function adoptOthers() {
    for (const frame of state().reel) {
      if (adopted.has(frame.id)) continue;
      try {
        await bridge.ask("adoptPicture", { id: frame.id, name: frame.name, file: await fileOf(frame) });
        adopted.add(frame.id);
        work();
      } catch (error) {
        onproblem(error);
      }
    }
  }

  return {
    work,
    /** From now on they are made. @returns {boolean} whether that is new */
    begin() {
      if (begun) return false;
      begun = true;
      work();
      adoptOthers();
      return true;
    },
    /** Makes all of them again in a worker that had to be replaced. */
    adoptAgain() {
      adopted.clear();
      adoptOthers();
    },
    /**
     * Takes a frame's small copy over.
     * @param {FrameId} id
     * @param {SmallCopy} copy as the picture's worker gave it
     */
    async adopt(id, copy) {
      await bridge.ask("adopt", { id, copy }, { transfer: [copy.code.buffer] });
      adopted.add(id);
      for (const name of [...done.keys()]) if (name === `reel ${id}` || !name.startsWith("reel ")) done.delete(name);
      work();
    },
    /** @param {FrameId} id */
    drop(id) {
      adopted.delete(id);
      bridge.ask("drop", { id }).catch(onproblem);
    },
  };
}
