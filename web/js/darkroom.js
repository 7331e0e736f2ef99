/**
 * Decides what to render next. What is wanted is read from the state each time the worker is free,
 * so the newest request wins and nothing that has become stale is begun.
 */

/** @import { FrameId, Recipe, ReelFrame, Scopes, Shown, Size, StageId, State } from "../types.js" */
/** @import { Bridge } from "./bridge.js" */
/** @import { Picture, SideName } from "./ui/picture.js" */

import { previewSize, placed, scaleOf, seen } from "./pure/viewport.js";
import { recipeOf } from "./recipe.js";

/** Most pixels of a preview, and of a detail. */
const PREVIEW_MOST = 1_500_000;
const DETAIL_MOST = 3_000_000;
/** How much smaller a picture is while a control is being dragged. */
const COARSE = 2;

/** @typedef {{ name: string, key: string, run: () => Promise<void> }} Job */

/**
 * @param {{ bridge: Bridge, picture: Picture, state: () => State, frame: () => ReelFrame | null,
 *   onscopes: (scopes: Scopes) => void, onproblem: (error: unknown) => void, onfirst: () => void,
 *   onrest: () => void }} wiring onrest: nothing is left to render
 */
export function createDarkroom({ bridge, picture, state, frame, onscopes, onproblem, onfirst, onrest }) {
  /** What each output shows. @type {Map<string, string>} */
  const done = new Map();
  let busy = false;
  let first = true;

  /** @returns {Job[]} in the order of their worth */
  function wanted() {
    const now = state();
    const current = frame();
    const info = current?.info;
    if (!current || !info) return [];
    const recipe = recipeOf(now.history.present, current.id);
    const box = placed(now.view, info, picture.room());
    const full = previewSize(info, box, picture.density(), PREVIEW_MOST);
    const coarse = { width: Math.ceil(full.width / COARSE), height: Math.ceil(full.height / COARSE) };
    const preview = (/** @type {SideName} */ side, /** @type {Size} */ size) =>
      previewJob(current.id, side, now.view[side], recipe, size);
    // What is quick comes first: a coarse picture while a control moves, and as the very first.
    if (now.dragging || first) return [preview("after", coarse)];
    const jobs = [preview("after", full), preview("before", full)];
    const pixels = scaleOf(now.view, info, picture.room()) * picture.density();
    const sharper = pixels > (full.width / info.width) * 1.05;
    const part = seen(now.view, info, picture.room());
    for (const side of /** @type {SideName[]} */ (["after", "before"])) {
      if (sharper && part.width * part.height <= DETAIL_MOST) jobs.push(detailJob(current.id, side, now.view[side], recipe, part, info));
      else hideDetail(side, info);
    }
    if (now.instruments) jobs.push(scopesJob(current.id, recipe, full));
    return jobs;
  }

  /**
   * @param {FrameId} id
   * @param {SideName} side
   * @param {StageId} stage
   * @param {Recipe} recipe
   * @param {Size} size
   * @returns {Job}
   */
  function previewJob(id, side, stage, recipe, size) {
    return {
      name: side,
      key: keyOf(id, stage, recipe, size),
      async run() {
        /** @type {Shown} */
        const shown = await bridge.ask("preview", { id, stage, recipe, ...size });
        picture.show(side, shown);
        if (first) onfirst();
        first = false;
      },
    };
  }

  /**
   * @param {FrameId} id
   * @param {SideName} side
   * @param {StageId} stage
   * @param {Recipe} recipe
   * @param {import("../types.js").Box} part
   * @param {Size} whole
   * @returns {Job}
   */
  function detailJob(id, side, stage, recipe, part, whole) {
    return {
      name: `${side}-detail`,
      key: keyOf(id, stage, recipe, part),
      async run() {
        /** @type {Shown} */
        const shown = await bridge.ask("detail", { id, stage, recipe, part });
        picture.detail(side, shown, part, whole);
      },
    };
  }

  /**
   * @param {SideName} side
   * @param {Size} whole
   */
  function hideDetail(side, whole) {
    done.delete(`${side}-detail`);
    picture.detail(side, null, null, whole);
  }

  /**
   * @param {FrameId} id
   * @param {Recipe} recipe
   * @param {Size} size
   * @returns {Job}
   */
  function scopesJob(id, recipe, size) {
    return {
      name: "scopes",
      key: keyOf(id, "screen", recipe, size),
      run: async () => onscopes(await bridge.ask("scopes", { id, recipe, ...size })),
    };
  }

  async function work() {
    if (busy) return;
    busy = true;
    picture.busy(true);
    for (;;) {
      const job = wanted().find(({ name, key }) => done.get(name) !== key);
      if (!job) break;
      done.set(job.name, job.key);
      try {
        await job.run();
      } catch (error) {
        onproblem(error);
      }
    }
    busy = false;
    picture.busy(false);
    if (!first) onrest();
  }

  return { work };
}

/**
 * @param {FrameId} id
 * @param {StageId} stage
 * @param {Recipe} recipe
 * @param {object} where
 */
function keyOf(id, stage, recipe, where) {
  return [id, stage, recipe.look, recipe.frame, recipe.delivery, JSON.stringify(where)].join("\n");
}
