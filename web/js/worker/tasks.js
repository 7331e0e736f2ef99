/** What a worker can be asked. Pixels leave it without being copied. */

/** @import { Recipe } from "../../types.js" */

import init, * as core from "lookwright-core";
import { clipFrame } from "./clips.js";
import * as held from "./held.js";
import * as part from "./part.js";

/** @type {(core: WebAssembly.Module) => void} */
export let takeCore;
const ready = new Promise((resolve) => {
  takeCore = (core) => resolve(init({ module_or_path: core }));
});

/** Endings and media types of plates. */
const PLATES = /** @type {Record<string, { extension: string, media: string }>} */ ({
  grain: { extension: "png", media: "image/png" },
  dust: { extension: "png", media: "image/png" },
  halation: { extension: "exr", media: "image/x-exr" },
});

/** @param {Recipe} recipe @returns {[string, string, string]} */
const texts = ({ look, frame, delivery }) => [look, frame, delivery];

/** @typedef {(news: { done: number, total: number }) => void} Tell says how far the work is */

/** @type {Record<string, (input: any, tell: Tell) => unknown>} */
const TASKS = {
  catalogue: () => ({ ...core.catalogue(), handOver: core.hand_over_choices() }),
  readLook: ({ text }) => core.read_look(text),
  startingLook: ({ stock }) => core.starting_look(stock),
  contrastCurve: ({ contrast }) => core.contrast_curve(contrast),
  curve: ({ points }) => core.curve_samples(Float64Array.from(points.flat())),
  saveTable: ({ look, delivery, encoding, grid }) => core.cube_table(look, delivery, encoding, grid),
  scanScale: ({ look, delivery, step }) => core.scan_scale(look, delivery, step),
  packPlan: ({ request }) => core.pack_plan(request),
  packHealth: ({ request, kind }) => core.pack_health(request, kind),
  savePack({ request, frames }, tell) {
    const sheet = new core.PackFrames();
    for (const { bytes, name, settings } of frames) sheet.add(bytes, name, settings);
    return core.pack(request, sheet, (done, total) => {
      tell({ done, total });
      return true;
    });
  },
  checkTable: ({ name, bytes, delivery }) => core.check_table(bytes, name, delivery),
  open: ({ id, name, bytes, number }) => held.open(id, name, bytes, number),
  openStill: (asked) => held.openStill(asked),
  clipFrame,
  adopt: ({ id, copy }) => held.adopt(id, copy),
  adoptPicture: ({ id, name, bytes }) => held.adoptPicture(id, name, bytes),
  drop: ({ id }) => held.drop(id),

  preview({ id, recipe, stage, width, height, quick }) {
    return { width, height, pixels: held.picture(id).preview(...texts(recipe), stage, width, height, quick) };
  },

  thumb({ id, recipe, stage }) {
    const { width, height } = held.smallSize(id);
    return { width, height, pixels: held.picture(id).preview(...texts(recipe), stage, width, height, false) };
  },

  detail({ id, recipe, stage, part: { x, y, width, height } }) {
    return { width, height, pixels: held.picture(id).detail(...texts(recipe), stage, x, y, width, height) };
  },

  scopes({ id, recipe, width, height }) {
    const [waveform, vectorscope, histogram] = held.picture(id).scopes(...texts(recipe), width, height);
    const side = core.Picture.vector_side();
    return {
      waveform: { width: waveform.length / 4 / 256, height: 256, pixels: waveform },
      vectorscope: { width: side, height: side, pixels: vectorscope },
      histogram,
    };
  },

  trace: ({ id, recipe, x, y }) => held.picture(id).trace(...texts(recipe), x, y),

  lend: ({ id }) => held.lend(id),
  rows: ({ first, end, room }) => held.rows(first, end, room),
  release: ({ loan }) => held.release(loan),

  beginPart: (wish) => part.begin(wish),
  stepPart: (rows) => part.step(rows),
  offerSheet: (sheet) => part.offer(sheet),
  tellRows: (rows) => part.told(rows),
  hearRows: (rows) => part.hear(rows),
  closeLayer: ({ layer }) => part.close(layer),
  nextRound: () => part.next(),
  finishPart: () => part.finish(),

  savePlate: ({ id, recipe, kind }) => ({ ...PLATES[kind], bytes: held.picture(id).plate(...texts(recipe), kind) }),
};

/**
 * @param {string} task
 * @param {any} input
 * @param {Tell} tell
 * @returns {Promise<unknown>} rejects with one sentence
 */
export async function answer(task, input, tell) {
  await ready;
  const run = TASKS[task];
  if (!run) throw new Error(`there is no task ${task}`);
  return run(input, tell);
}

/**
 * @param {any} result
 * @returns {Transferable[]} the buffers in an answer, which need not be copied
 */
export function giveBack(result) {
  const arrays = [result?.pixels, result?.bytes, result?.values, result?.copy?.code, result?.before?.pixels, result?.after?.pixels, result?.waveform?.pixels, result?.vectorscope?.pixels];
  const buffers = arrays.flatMap((array) => (ArrayBuffer.isView(array) ? [/** @type {ArrayBuffer} */ (array.buffer)] : []));
  return result?.room ? [...buffers, result.room] : buffers;
}
