/** What a worker can be asked: one function for each task of `types/tasks.d.ts`. */

/** @import { Answer, Asked, TaskName, Tell } from "../../types.js" */

import init, * as core from "lookwright-wasm";
import { clipFrame } from "./clips.js";
import * as held from "./held.js";
import * as part from "./part.js";
import { read } from "./settings.js";

/** @type {(core: WebAssembly.Module) => void} */
export let takeCore;
const ready = new Promise((resolve) => {
  takeCore = (core) => resolve(init({ module_or_path: core }));
});


/** @type {{ [T in TaskName]: (asked: Asked<T>, tell: Tell) => Answer<T> | Promise<Answer<T>> }} */
const TASKS = {
  catalogue: () => ({ ...core.catalogue(), handOver: core.hand_over_choices() }),
  about: () => ({ version: core.version(), model: core.read_look(core.starting_look("evening")).model }),
  readLook({ text }) {
    const texts = core.read_look(text);
    return { ...texts, look: JSON.parse(texts.canonical) };
  },
  startingLook: ({ stock }) => JSON.parse(core.starting_look(stock)),
  contrastCurve: ({ contrast }) => core.contrast_curve(JSON.stringify(contrast)),
  curve: ({ points }) => core.curve_samples(Float64Array.from(points.flat())),
  scanScale: ({ settings, step }) => core.scan_scale(read(settings), step),

  open: held.open,
  openStill: held.openStill,
  adopt: held.adopt,
  drop: ({ id }) => held.drop(id),
  copy: held.copy,
  lookAt: held.lookAt,
  lookAtStill: held.lookAtStill,

  preview({ id, settings, stage, width, height, quick }) {
    return { width, height, pixels: held.picture(id).preview(read(settings), stage, width, height, quick) };
  },

  difference({ before, after, screen }) {
    const { width, height } = before;
    const [mean, most, steps, amplified] = core.picture_difference(bytesIn(before), bytesIn(after), screen);
    return { mean, most, steps: { width, height, pixels: steps }, amplified: { width, height, pixels: amplified } };
  },

  thumb({ id, settings, stage }) {
    const { width, height } = held.smallSize(id);
    return { width, height, pixels: held.picture(id).preview(read(settings), stage, width, height, false) };
  },

  detail({ id, settings, stage, part: { x, y, width, height } }) {
    const pixels = held.picture(id).detail(read(settings), stage, x, y, width, height);
    return pixels ? { width, height, pixels } : null;
  },

  scopes({ id, settings, width, height }) {
    const [waveform, vectorscope, histogram] = held.picture(id).scopes(read(settings), width, height);
    const side = core.Picture.vector_side();
    return {
      waveform: { width: waveform.length / 4 / 256, height: 256, pixels: waveform },
      vectorscope: { width: side, height: side, pixels: vectorscope },
      histogram,
    };
  },

  firstLook: ({ id, settings }) => held.picture(id).first_look(read(settings)),
  trace: ({ id, settings, x, y }) => held.picture(id).trace(read(settings), x, y),
  clipFrame,

  lend: ({ id }) => held.lend(id),
  rows: held.rows,
  release: ({ loan }) => held.release(loan),

  beginPart: part.begin,
  stepPart: part.step,
  haloRanges: part.haloRanges,
  readHalo: part.readHalo,
  writeHalo: part.writeHalo,
  closeHalo: part.closeHalo,
  nextRound: part.next,
  finishPart: part.finish,

  encodePicture: ({ pixels, width, format, quality }) => core.encode_picture(held.asBytes(pixels), width, format, quality),
  saveTable: ({ settings, encoding, grid }) => core.cube_table(read(settings), encoding, grid),
  savePlate: ({ id, settings, kind }) => held.picture(id).plate(read(settings), kind),
  packPlan: ({ request }) => core.pack_plan(request),
  packHealth: ({ request, kind }) => core.pack_health(request, kind),
  async savePack({ request, frames }, tell) {
    const samples = new core.PackFrames();
    for (const { file, name, settings } of frames) samples.add(await held.bytesOf(file), name, read(settings));
    return core.pack(request, samples, (done, total) => {
      tell({ done, total });
      return true;
    });
  },
  checkTable: async ({ name, file, settings }) => core.check_table(await held.bytesOf(file), name, read(settings)),
};

/** @param {import("../../types.js").Shown} shown */
const bytesIn = ({ pixels }) => new Uint8Array(pixels.buffer, pixels.byteOffset, pixels.length);

/**
 * @template {TaskName} T
 * @param {T} task
 * @param {Asked<T>} asked
 * @param {Tell} tell
 * @returns {Promise<Answer<T>>} rejects with one sentence
 */
export async function answer(task, asked, tell) {
  await ready;
  return TASKS[task](asked, tell);
}
