/** The pictures of a review: each frame before the look and with every version, rendered in a worker of their own. */

/** @import { Box, Core, LookData, ReelFrame, ReviewData, Shown, Size, StageId, StageSettings, Tell } from "../../types.js" */

import { Bridge } from "../bridge/bridge.js";

/** The part that is there pixel by pixel, in picture pixels: as wide as a small phone shows, twice. */
const CROP = { width: 720, height: 480 };
/** What every screen shows without being told. */
const DELIVERY = JSON.stringify({ display: { screen: "srgb" } });
/** How long the worker may be silent, in ms. */
const SILENCE = 10 * 60_000;

/** @typedef {{ frame: number, kind: string, crop: boolean, shown: Shown }} Rendered */
/** @typedef {{ id: string, name: string, size: Size, settings: StageSettings, number?: number, file: () => Promise<Blob> }} Source */

/**
 * @param {ReelFrame} frame that has been opened
 * @param {StageSettings} settings
 * @param {(frame: ReelFrame) => Promise<Blob>} fileOf
 * @returns {Source}
 */
export const sourceOf = (frame, settings, fileOf) => ({ id: frame.id, name: frame.name, size: frame.info ?? { width: 0, height: 0 }, settings, number: frame.clip?.number, file: () => fileOf(frame) });

/**
 * @param {{ core: Core, sources: Source[], looks: { letter: string, look: LookData }[], side: number, tell: Tell,
 *   middle?: { x: number, y: number } }} wish
 *   side: the longer side of each picture, in pixels; middle: of the part that is there pixel by pixel, 0 ... 1
 * @returns {{ result: Promise<{ shots: Rendered[], crops: (Box | undefined)[] }>, cancel: (why: Error) => void }}
 */
export function renderShots({ core, sources, looks, side, tell, middle = { x: 0.5, y: 0.5 } }) {
  const worker = new Bridge(core, { silence: SILENCE });
  return { result: work().finally(() => worker.end(new Error("done"))), cancel: (why) => worker.end(why) };

  async function work() {
    /** @type {Rendered[]} */
    const shots = [];
    /** @type {(Box | undefined)[]} */
    const crops = [];
    const total = sources.length * (1 + looks.length);
    let done = 0;
    for (const [frame, source] of sources.entries()) {
      const { id, info, scale, size } = await opened(worker, source, side);
      const part = scale < 0.95 ? partOf(info, middle) : null;
      crops.push(part ? { x: part.x / info.width, y: part.y / info.height, width: part.width / info.width, height: part.height / info.height } : undefined);
      const [first] = looks;
      for (const { letter: kind, look } of [...(first ? [{ letter: "before", look: first.look }] : []), ...looks]) {
        const stage = /** @type {StageId} */ (kind === "before" ? "intake" : "screen");
        const asked = { id, settings: settingsOf(source, look), stage };
        shots.push({ frame, kind, crop: false, shown: await worker.ask("preview", { ...asked, ...size, quick: false }) });
        if (part) shots.push({ frame, kind, crop: true, shown: await detail(asked, part) });
        done += 1;
        tell({ done, total });
      }
    }
    return { shots, crops };
  }

  /**
   * @param {{ id: string, settings: import("../../types.js").RenderSettings, stage: StageId }} asked
   * @param {Box} part
   */
  async function detail(asked, part) {
    for (;;) {
      const shown = await worker.ask("detail", { ...asked, part });
      if (shown) return shown;
    }
  }
}

/**
 * One frame as it leaves each stage of the light path.
 * @param {{ core: Core, source: Source, look: LookData, stages: StageId[], side: number }} wish
 * @returns {Promise<Shown[]>}
 */
export async function renderStages({ core, source, look, stages, side }) {
  const worker = new Bridge(core, { silence: SILENCE });
  try {
    const { id, size } = await opened(worker, source, side);
    const shown = [];
    for (const stage of stages) shown.push(await worker.ask("preview", { id, settings: settingsOf(source, look), stage, ...size, quick: false }));
    return shown;
  } finally {
    worker.end(new Error("done"));
  }
}

/**
 * Opens a frame, and says how large its pictures are.
 * @param {Bridge} worker
 * @param {Source} source
 * @param {number} side
 */
async function opened(worker, { id, name, number, file }, side) {
  const { info } = await worker.ask("open", { id, name, file: await file(), ...(number === undefined ? {} : { number }) });
  const scale = Math.min(1, side / Math.max(info.width, info.height));
  return { id, info, scale, size: { width: Math.max(1, Math.round(info.width * scale)), height: Math.max(1, Math.round(info.height * scale)) } };
}

/** @param {Source} source @param {LookData} look */
const settingsOf = (source, look) => ({ look: JSON.stringify(look), frame: JSON.stringify(source.settings), delivery: DELIVERY });

/**
 * @param {Size} whole
 * @param {{ x: number, y: number }} middle
 * @returns {Box}
 */
function partOf(whole, middle) {
  const [width, height] = [Math.min(CROP.width, whole.width), Math.min(CROP.height, whole.height)];
  const place = (/** @type {number} */ at, /** @type {number} */ length, /** @type {number} */ all) => Math.round(Math.min(all - length, Math.max(0, at * all - length / 2)));
  return { x: place(middle.x, width, whole.width), y: place(middle.y, height, whole.height), width, height };
}

/**
 * @param {ReviewData} review
 * @param {(Box | undefined)[]} crops
 * @returns {ReviewData} with what is there pixel by pixel
 */
export function withCrops(review, crops) {
  const frames = review.frames.map((frame, i) => (crops[i] ? { ...frame, crop: crops[i] } : frame));
  return { ...review, frames };
}
