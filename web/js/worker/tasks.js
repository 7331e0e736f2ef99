/** What the page begins with: one function for each of these tasks of `types/tasks.d.ts`. */

/** @import { Tasks } from "./serve.js" */

import * as core from "lookwright-wasm";
import * as held from "./held.js";
import { read } from "./settings.js";

/** What a worker of either core can be asked. @satisfies {Tasks} */
export const TASKS = {
  catalogue: () => ({ ...core.catalogue(), handOver: core.hand_over_choices(), judging: core.judging() }),
  about: () => ({ version: core.version(), model: core.read_look(core.starting_look("evening")).model }),
  readLook({ text }) {
    const texts = core.read_look(text);
    return { ...texts, look: JSON.parse(texts.canonical) };
  },
  startingLook: ({ stock }) => JSON.parse(core.starting_look(stock)),
  contrastCurve: ({ contrast }) => core.contrast_curve(JSON.stringify(contrast)),
  curve: ({ points }) => core.curve_samples(Float64Array.from(points.flat())),
  greyCurve: ({ settings, stage }) => core.grey_curve(read(settings), stage),
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

  scopes({ id, settings, stage, viewed, width, height }) {
    const [waveform, vectorscope, histogram, [darkest, brightest, below, above]] = held.picture(id).scopes(read(settings), stage, viewed, width, height);
    const side = core.Picture.vector_side();
    return {
      waveform: { width: waveform.length / 4 / 256, height: 256, pixels: waveform },
      vectorscope: { width: side, height: side, pixels: vectorscope },
      histogram,
      stage: viewed ? "screen" : stage,
      reading: { darkest, brightest, below, above },
    };
  },

  firstLook: ({ id, settings }) => held.picture(id).first_look(read(settings)),
  trace: ({ id, settings, x, y, side }) => held.picture(id).trace(read(settings), x, y, side),

  marked({ id, settings, marking, width, height }) {
    const [pixels, shares] = held.picture(id).marked(read(settings), marking, width, height);
    return { shown: { width, height, pixels }, shares: [...shares] };
  },

  lend: ({ id }) => held.lend(id),
  rows: held.rows,
  release: ({ loan }) => held.release(loan),
};

/** @param {import("../../types.js").Shown} shown */
const bytesIn = ({ pixels }) => new Uint8Array(pixels.buffer, pixels.byteOffset, pixels.length);
