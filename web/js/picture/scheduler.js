/**
 * Decides what to render next. What is wanted is read from the state each time the worker is free,
 * so the newest request wins and nothing that has become stale is begun.
 */

/** @import { FrameId, RenderSettings, ReelFrame, Scopes, Shown, Size, StageId, State } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Picture, SideName } from "../ui/picture/picture.js" */

import { Superseded } from "../bridge/bridge.js";
import { previewSize, placed, scaleOf, seen } from "../pure/viewport.js";
import { sideRead } from "../pure/reads.js";
import { docWithout } from "../pure/without.js";
import { renderSettings } from "./render-settings.js";

/** Most pixels of a preview, and of a detail. */
export const PREVIEW_MOST = 1_500_000;
const DETAIL_MOST = 3_000_000;
/** How much smaller a picture is while a control is being dragged, if it would not keep up. */
const COARSE = 2;
/** What may pass from a movement to its picture, in ms. */
const LIVE = 24;

/** @typedef {{ name: string, key: string, run: () => Promise<void> }} Job */

/**
 * @param {{ bridge: Bridge, picture: Picture, state: () => State, frame: () => ReelFrame | null,
 *   onscopes: (scopes: Scopes, side: SideName) => void, onmarked: (marked: NonNullable<State["marked"]>) => void, onproblem: (error: unknown) => void, onfirst: () => void,
 *   onrest: () => void }} wiring onrest: nothing is left to render
 */
export function createScheduler({ bridge, picture, state, frame, onscopes, onmarked, onproblem, onfirst, onrest }) {
  /** What each output shows. @type {Map<string, string>} */
  const done = new Map();
  let busy = false;
  /** The frame that was looked at last. @type {FrameId | null} */
  let looked = null;
  let first = true;
  /** What the full preview's light and negative were made from. @type {unknown[]} */
  let exposed = [];
  /** Pixels per ms of the last quick preview at full size; a guess until there is one. */
  let pace = 50_000;

  /** @returns {Job[]} in the order of their worth */
  function wanted() {
    const now = state();
    const current = frame();
    const info = current?.info;
    if (!current || !info) return [];
    if (now.moving !== "no") {
      // The player shows frames; at rest all is to be shown anew.
      for (const side of /** @type {SideName[]} */ (["after", "before"])) hideDetail(side, info);
      done.clear();
      return [];
    }
    const settings = renderSettings(now.history.present, current.id);
    const sides = sidesOf(now, current.id, shownSettings(now, current.id, settings));
    const still = current.clip?.number ?? 0;
    const box = placed(now.view, info, picture.paneSize());
    const full = previewSize(info, box, picture.density(), PREVIEW_MOST);
    const coarse = { width: Math.ceil(full.width / COARSE), height: Math.ceil(full.height / COARSE) };
    const preview = (/** @type {SideName} */ side, /** @type {Size} */ size, quick = false) =>
      previewJob(current.id, still, side, sides.stages[side], sides.settings[side], size, quick);
    // Where the key to it is not in sight, nothing is marked.
    const marking = now.panel === "instruments" && !now.bare ? now.marking : null;
    const marked = (/** @type {Size} */ size) => (marking && !first ? markedJob(current.id, still, sides.settings.after, marking, size) : null);
    // What is quick comes first: while a control moves, and as the very first picture. What comes
    // after the negative is quick at full size, if the negative is there.
    if (now.dragging || now.without || first) {
      const coarsely = marked(coarse);
      if (coarsely) return [coarsely];
      const before = upstream(now, current.id, still, full);
      const there = before.every((part, i) => part === exposed[i]);
      const keepsUp = full.width * full.height <= pace * LIVE;
      return [preview("after", there && keepsUp ? full : coarse, true)];
    }
    const exact = preview("after", full);
    const sharp = preview("after", full, true);
    // A picture at full size as soon as there can be one, unless the hand has left one there; what is
    // exact takes its place.
    const there = [sharp.key, exact.key].includes(done.get("after") ?? "");
    const wholly = marked(full);
    const jobs = [wholly ?? (there ? exact : sharp), preview("before", full)];
    const pixels = scaleOf(now.view, info, picture.paneSize()) * picture.density();
    const sharper = pixels > (full.width / info.width) * 1.05;
    const part = seen(now.view, info, picture.paneSize());
    for (const side of /** @type {SideName[]} */ (["after", "before"])) {
      // Marks are made for the whole picture, at the pane's size.
      const plain = side === "before" || !wholly;
      if (plain && sharper && part.width * part.height <= DETAIL_MOST) jobs.push(detailJob(current.id, still, side, sides.stages[side], sides.settings[side], part, info));
      else hideDetail(side, info);
    }
    if (now.instruments || now.panel === "instruments") jobs.push(scopesJob(current.id, still, sides, sideRead(now), now.scopeStage, full));
    return jobs;
  }

  /**
   * @param {FrameId} id
   * @param {number} still number of the frame in its clip
   * @param {SideName} side
   * @param {StageId} stage
   * @param {RenderSettings} settings
   * @param {Size} size
   * @param {boolean} quick
   * @returns {Job}
   */
  function previewJob(id, still, side, stage, settings, size, quick) {
    return {
      name: side,
      key: keyOf(id, stage, settings, { still, ...size, quick }),
      async run() {
        const before = upstream(state(), id, still, size);
        const begin = performance.now();
        /** @type {Shown} */
        const shown = await bridge.ask("preview", { id, stage, settings, ...size, quick });
        stillWanted(id, still);
        picture.show(side, shown, id);
        if (side === "after" && !quick) exposed = before;
        else if (quick && before.every((part, i) => part === exposed[i])) pace = (size.width * size.height) / (performance.now() - begin);
        if (first) onfirst();
        first = false;
      },
    };
  }

  /**
   * @param {FrameId} id
   * @param {number} still number of the frame in its clip
   * @param {SideName} side
   * @param {StageId} stage
   * @param {RenderSettings} settings
   * @param {import("../../types.js").Box} part
   * @param {Size} whole
   * @returns {Job}
   */
  function detailJob(id, still, side, stage, settings, part, whole) {
    return {
      name: `${side}-detail`,
      key: keyOf(id, stage, settings, { still, ...part }),
      async run() {
        const shown = await bridge.ask("detail", { id, stage, settings, part });
        stillWanted(id, still);
        // More of the picture has to be gone through: once more, unless something else is wanted now.
        if (shown) picture.detail(side, shown, part, whole);
        else done.delete(`${side}-detail`);
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
   * @param {number} still number of the frame in its clip
   * @param {RenderSettings} settings
   * @param {string} marking
   * @param {Size} size
   * @returns {Job}
   */
  function markedJob(id, still, settings, marking, size) {
    return {
      name: "after",
      key: keyOf(id, "screen", settings, { still, ...size, marking }),
      async run() {
        const { shown, shares } = await bridge.ask("marked", { id, settings, marking, ...size });
        stillWanted(id, still);
        picture.show("after", shown, id);
        onmarked({ marking, shares });
      },
    };
  }

  /**
   * @param {FrameId} id
   * @param {number} still
   * @param {ReturnType<typeof sidesOf>} sides
   * @param {SideName} side what stands there is read as it is shown, if it is the one before
   * @param {StageId} scopeStage
   * @param {Size} size
   * @returns {Job}
   */
  function scopesJob(id, still, sides, side, scopeStage, size) {
    const settings = sides.settings[side];
    const viewed = side === "before";
    const stage = viewed ? sides.stages.before : scopeStage;
    return {
      name: "scopes",
      key: keyOf(id, stage, settings, { still, ...size, viewed }),
      async run() {
        const scopes = await bridge.ask("scopes", { id, settings, stage, viewed, ...size });
        stillWanted(id, still);
        onscopes(scopes, side);
      },
    };
  }

  /**
   * Throws unless a frame is still the one that is looked at.
   * @param {FrameId} id
   * @param {number} still number of the frame in its clip
   */
  function stillWanted(id, still) {
    const current = frame();
    if (current?.id !== id || (current.clip?.number ?? 0) !== still) throw new Superseded();
  }

  /** The worker, or the pane, has nothing of what was made any more. */
  function forget() {
    done.clear();
    exposed = [];
  }

  async function work() {
    const { current } = state();
    if (current !== looked) {
      looked = current;
      forget();
    }
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
        // What another frame has overtaken, or a worker that died has left, is wanted again then.
        if (error instanceof Superseded) done.delete(job.name);
        else onproblem(error);
      }
    }
    busy = false;
    picture.busy(false);
    if (!first) onrest();
  }

  return {
    work,
    forget,
  };
}

/**
 * The look as it is shown, which is without what is being held.
 * @param {State} state
 * @param {FrameId} id
 * @param {RenderSettings} own
 */
function shownSettings({ history, catalogue, without }, id, own) {
  return without && catalogue ? renderSettings(docWithout(catalogue, history.present, id, without), id) : own;
}

/**
 * What each side shows: stages of one's own look, or, while a look that was received is compared,
 * that one beside one's own.
 * @param {State} state
 * @param {FrameId} id
 * @param {RenderSettings} own
 * @returns {{ settings: Record<SideName, RenderSettings>, stages: Record<SideName, StageId> }}
 */
export function sidesOf({ history, received, view }, id, own) {
  if (!received?.comparing) return { settings: { before: own, after: own }, stages: view };
  const theirs = renderSettings({ ...history.present, look: received.look }, id);
  return { settings: { before: own, after: theirs }, stages: { before: "screen", after: "screen" } };
}

/**
 * @param {FrameId} id
 * @param {StageId} stage
 * @param {RenderSettings} settings
 * @param {object} where
 */
function keyOf(id, stage, settings, where) {
  return [id, stage, settings.look, settings.frame, settings.delivery, JSON.stringify(where)].join("\n");
}

/**
 * What a preview depends on up to the negative. Settings are replaced and never changed, so they
 * can be told apart by themselves.
 * @param {State} state
 * @param {FrameId} id
 * @param {number} still
 * @param {Size} size
 */
function upstream({ history }, id, still, { width, height }) {
  const { look, frames } = history.present;
  return [id, look["lens"], look["negative"], frames[id], still, width, height];
}
