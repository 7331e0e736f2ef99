/** Across the reel: the current frame's trim given to others, or their exposure matched to it. */

/** @import { Catalogue, Doc, FrameId, ReelFrame, Shown, StageSettings } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { reasonOf } from "../bridge/bridge.js";
import { renderSettings } from "../picture/render-settings.js";
import { onReel } from "../pure/history.js";
import { balanceOf, exposureFor, lightFor, medianLuma } from "../pure/looks/match.js";
import { round } from "../pure/scale.js";
import { findStage, findStep, stepSettings, valueOf, withValue } from "../pure/settings.js";
import { spoken, stepSummary } from "../pure/summary.js";
import { h, text } from "../ui/dom.js";
import { replaceRows } from "../ui/rows.js";
import { createSheet } from "../ui/sheet.js";

/** @param {number} count */
const framesSaid = (count) => (count === 1 ? "1 frame" : `${count} frames`);

/** Values of a trim, by control. @typedef {Partial<Record<"exposure" | "kelvin" | "tint", number>>} Suggested */

/** What is measured is this large at most: brightness needs no detail. */
const BOX = { width: 120, height: 120 };

/** @param {{ catalogue: Catalogue, store: Store, edits: Edits, notices: Notices, renderers: Renderers }} wiring */
export function createAcross({ catalogue, store, edits, notices, renderers }) {
  const trim = findStep(findStage(catalogue, "intake"), "trim");
  const [exposure, kelvin, tint] = ["exposure", "kelvin", "tint"].map((id) => trim.controls.find((control) => control.id === id));
  /** @type {Set<FrameId>} */
  const left = new Set();
  /** What is suggested, or why there is nothing. @type {Map<FrameId, Suggested | string>} */
  const suggested = new Map();
  /** @type {Wish[]} */
  let wishes = [];
  /** @type {ReturnType<Renderers["use"]> | null} */
  let use = null;
  /** Counts openings: what an earlier one still measures is not waited for. */
  let turn = 0;

  const hero = h("p", {});
  const rows = h("ul", { class: "batch-rows" });
  const said = h("p", { role: "status" });
  const give = h("button", { class: "pill", type: "button", onclick: onGive }, "Give them this trim");
  const measure = h("button", { class: "pill", type: "button", onclick: () => onMeasure(exposureOf) }, "Match their exposure");
  const measureLight = h("button", { class: "pill", type: "button", onclick: () => onMeasure(lightOf) }, "Match their light");
  const apply = h("button", { class: "pill pill-lit", type: "button", hidden: true, onclick: onApply }, "Apply what is suggested");
  const sheet = createSheet({ title: "Across the reel", kind: "batch across", onclose: stop });
  sheet.body.append(h("div", {}, hero, h("p", { class: "quiet" }, "Matching exposure makes the middle tone of each frame as bright, through the look, as this one\u2019s; matching light gives its colours the same balance. Each change is suggested first, and undo takes it back.")), rows);
  sheet.el.append(h("div", { class: "wall-foot" }, said, h("div", { class: "wall-tools" }, give, measure, measureLight, apply)));

  const present = () => store.get().history.present;
  const current = () => store.get().reel.find(({ id }) => id === store.get().current) ?? null;
  const others = () => onReel(store.get().reel, present()).filter(({ id, stage, clip }) => id !== store.get().current && stage !== "failed" && !clip);
  const chosen = () => others().filter(({ id }) => !left.has(id));
  /** @param {FrameId} id */
  const trimOf = (id) => stepSettings(present().frames[id] ?? {}, "trim");

  function stop() {
    turn += 1;
    wishes = [];
    use?.close();
    use = null;
  }

  function show() {
    const now = current();
    text(hero, now ? `${now.name}: ${stepSummary(trim, trimOf(now.id)) || "no trim"}.` : "There is no frame.");
    replaceRows(
      rows,
      others().map(({ id, name }) => {
        const box = h("input", { type: "checkbox", checked: !left.has(id), "aria-label": name, onchange: () => (box.checked ? left.delete(id) : left.add(id), show()) });
        const found = suggested.get(id);
        const words = typeof found === "string" ? found : found ? changesOf(id, found) : stepSummary(trim, trimOf(id)) || "no trim";
        return h("li", {}, box, h("span", { class: "batch-name" }, name), h("span", { class: "quiet" }, words));
      }),
    );
    const ready = chosen().filter(({ id }) => typeof suggested.get(id) === "object").length;
    give.disabled = measure.disabled = measureLight.disabled = chosen().length === 0 || !now;
    apply.hidden = ready === 0;
  }

  /** @param {FrameId} id @param {Suggested} found */
  function changesOf(id, found) {
    return trim.controls
      .flatMap((control) => {
        const value = found[/** @type {keyof Suggested} */ (control.id)];
        return value === undefined ? [] : [`${spoken(control, valueOf(trimOf(id), control))} to ${spoken(control, value)}`];
      })
      .join(", ");
  }

  function onGive() {
    const now = current();
    if (!now) return;
    const own = trimOf(now.id);
    commit(chosen(), (settings) => {
      const { trim: _, ...rest } = settings;
      return Object.keys(own).length > 0 ? { ...rest, trim: own } : rest;
    }, `trim of ${now.name} for ${framesSaid(chosen().length)}`);
  }

  function onApply() {
    const ready = chosen().filter(({ id }) => typeof suggested.get(id) === "object");
    const light = ready.some(({ id }) => /** @type {Suggested} */ (suggested.get(id)).kelvin !== undefined);
    commit(ready, (settings, id) => trimmed({ ...present(), frames: { [id]: settings } }, id, /** @type {Suggested} */ (suggested.get(id))).frames[id] ?? settings, `${light ? "light" : "exposure"} matched across ${framesSaid(ready.length)}`);
  }

  /** @param {Doc} doc @param {FrameId} id @param {Suggested} values */
  function trimmed(doc, id, values) {
    return Object.entries(values).reduce((next, [control, value]) => withValue(catalogue, next, id, { stage: "intake", step: "trim", control }, value), doc);
  }

  /**
   * One edit for all of them.
   * @param {readonly ReelFrame[]} frames
   * @param {(settings: StageSettings, id: FrameId) => StageSettings} change
   * @param {string} made
   */
  function commit(frames, change, made) {
    edits.setFrames(Object.fromEntries(frames.map(({ id }) => [id, change(present().frames[id] ?? {}, id)])), made);
    sheet.close();
    notices.say(`${made.charAt(0).toUpperCase()}${made.slice(1)}.`, { topic: "across", fades: true, action: { label: "Undo", run: edits.undo } });
  }

  /** @param {ReelFrame} frame @param {Suggested} values of its trim, instead of its own @returns {Promise<Shown>} */
  function rendered(frame, values) {
    return new Promise((resolve, reject) => {
      const settings = renderSettings(trimmed(present(), frame.id, values), frame.id);
      /** @type {Wish} */
      const wish = {
        key: `across ${frame.id} ${settings.frame}`,
        frame,
        box: BOX,
        settings,
        stage: "screen",
        take: (shown) => {
          wishes = wishes.filter((it) => it !== wish);
          resolve(shown);
        },
        fail: (reason) => {
          wishes = wishes.filter((it) => it !== wish);
          reject(new Error(reason));
        },
      };
      wishes.push(wish);
      use?.work();
    });
  }

  /** @param {Shown} hero @returns {(frame: ReelFrame) => Promise<Suggested>} */
  function exposureOf(hero) {
    if (exposure?.kind !== "number") throw new Error("There is no exposure to match.");
    const wanted = medianLuma(hero);
    return async (frame) => ({ exposure: round(exposure, await exposureFor(async (stops) => medianLuma(await rendered(frame, { exposure: stops })), wanted, exposure)) });
  }

  /** @param {Shown} hero @returns {(frame: ReelFrame) => Promise<Suggested>} */
  function lightOf(hero) {
    if (kelvin?.kind !== "number" || tint?.kind !== "number") throw new Error("There is no light to match.");
    const wanted = balanceOf(hero);
    if (!wanted) throw new Error("This frame is black or burnt out, so its light can\u2019t be judged.");
    return async (frame) => {
      const own = trimOf(frame.id);
      const from = { kelvin: Number(valueOf(own, kelvin)), tint: Number(valueOf(own, tint)) };
      const found = await lightFor(async (light) => balanceOf(await rendered(frame, light)), wanted, from, { kelvin, tint });
      if (!found) throw new Error("its light can\u2019t be judged");
      return { kelvin: round(kelvin, found.kelvin), tint: round(tint, found.tint) };
    };
  }

  /** @param {(hero: Shown) => (frame: ReelFrame) => Promise<Suggested>} matching */
  async function onMeasure(matching) {
    const now = current();
    if (!now) return;
    const own = (turn += 1);
    use ??= renderers.use(() => wishes);
    // What an earlier one was at is given up.
    wishes = [];
    suggested.clear();
    try {
      const match = matching(await rendered(now, {}));
      for (const [i, frame] of chosen().entries()) {
        if (own !== turn) return;
        text(said, `${i} of ${chosen().length} measured`);
        const found = await match(frame).catch(reasonOf);
        if (own !== turn) return;
        suggested.set(frame.id, found);
        show();
      }
      text(said, `${suggested.size} measured`);
    } catch (error) {
      if (own === turn) text(said, reasonOf(error));
    }
  }

  return {
    open() {
      suggested.clear();
      text(said, "");
      show();
      sheet.open();
    },
  };
}
