/** Across the reel: the current frame's trim given to others, or their exposure matched to it. */

/** @import { Catalogue, FrameId, ReelFrame, Shown, StageSettings } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { reasonOf } from "../bridge/bridge.js";
import { renderSettings } from "../picture/render-settings.js";
import { onReel } from "../pure/history.js";
import { exposureFor, medianLuma } from "../pure/looks/match.js";
import { round } from "../pure/scale.js";
import { findStage, findStep, stepSettings, valueOf, withValue } from "../pure/settings.js";
import { spoken, stepSummary } from "../pure/summary.js";
import { h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";

/** @param {number} count */
const framesSaid = (count) => (count === 1 ? "1 frame" : `${count} frames`);

/** What is measured is this large at most: brightness needs no detail. */
const BOX = { width: 120, height: 120 };

/** @param {{ catalogue: Catalogue, store: Store, edits: Edits, notices: Notices, renderers: Renderers }} wiring */
export function createAcross({ catalogue, store, edits, notices, renderers }) {
  const trim = findStep(findStage(catalogue, "intake"), "trim");
  const exposure = trim.controls.find(({ id }) => id === "exposure");
  /** @type {Set<FrameId>} */
  const left = new Set();
  /** What is suggested, in stops, or why there is nothing. @type {Map<FrameId, number | string>} */
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
  const measure = h("button", { class: "pill", type: "button", onclick: onMeasure }, "Match their exposure");
  const apply = h("button", { class: "pill pill-lit", type: "button", hidden: true, onclick: onApply }, "Apply what is suggested");
  const sheet = createSheet({ title: "Across the reel", kind: "batch across", onclose: stop });
  sheet.body.append(h("div", {}, hero, h("p", { class: "quiet" }, "A match makes half of each frame\u2019s pixels as bright, through the look, as half of this one\u2019s. It is suggested first; undo takes it back.")), rows);
  sheet.el.append(h("div", { class: "wall-foot" }, said, h("div", { class: "wall-tools" }, give, measure, apply)));

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
    rows.replaceChildren(
      ...others().map(({ id, name }) => {
        const box = h("input", { type: "checkbox", checked: !left.has(id), "aria-label": name, onchange: () => (box.checked ? left.delete(id) : left.add(id), show()) });
        const found = suggested.get(id);
        const words = typeof found === "number" && exposure ? `${spoken(exposure, valueOf(trimOf(id), exposure))} to ${spoken(exposure, found)}` : (typeof found === "string" ? found : stepSummary(trim, trimOf(id)) || "no trim");
        return h("li", {}, box, h("span", { class: "batch-name" }, name), h("span", { class: "quiet" }, words));
      }),
    );
    const ready = chosen().filter(({ id }) => typeof suggested.get(id) === "number").length;
    give.disabled = measure.disabled = chosen().length === 0 || !now;
    apply.hidden = ready === 0;
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
    const ready = chosen().filter(({ id }) => typeof suggested.get(id) === "number");
    commit(ready, (settings, id) => {
      const doc = withValue(catalogue, { ...present(), frames: { [id]: settings } }, id, { stage: "intake", step: "trim", control: "exposure" }, Number(suggested.get(id)));
      return doc.frames[id] ?? settings;
    }, `exposure matched across ${framesSaid(ready.length)}`);
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

  /** @param {ReelFrame} frame @param {number | null} stops its trim's exposure, null: as it is */
  function brightness(frame, stops) {
    const doc = stops === null ? present() : withValue(catalogue, present(), frame.id, { stage: "intake", step: "trim", control: "exposure" }, stops);
    return new Promise((/** @type {(luma: number) => void} */ resolve, reject) => {
      /** @type {Wish} */
      const wish = {
        key: `across ${frame.id} ${stops}`,
        frame,
        box: BOX,
        settings: renderSettings(doc, frame.id),
        stage: "screen",
        take: (/** @type {Shown} */ shown) => {
          wishes = wishes.filter((it) => it !== wish);
          resolve(medianLuma(shown));
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

  async function onMeasure() {
    const now = current();
    if (!now || exposure?.kind !== "number") return;
    const own = (turn += 1);
    use ??= renderers.use(() => wishes);
    suggested.clear();
    try {
      const wanted = await brightness(now, null);
      for (const [i, frame] of chosen().entries()) {
        if (own !== turn) return;
        text(said, `${i} of ${chosen().length} measured`);
        const found = await exposureFor((stops) => brightness(frame, stops), wanted, exposure).catch((error) => reasonOf(error));
        suggested.set(frame.id, typeof found === "number" ? round(exposure, found) : found);
        show();
      }
      text(said, `${suggested.size} measured`);
    } catch (error) {
      text(said, reasonOf(error));
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
