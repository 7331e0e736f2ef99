/** On a phone: one control of the open stage at a time, with the way to its neighbours. */

/** @import { StageEntry } from "../../../types.js" */
/** @import { StepView } from "./step.js" */

import { attribute, h, text } from "../dom.js";
import { icon } from "../icons.js";

/** @typedef {{ step: string, control: string }} Stop */

/**
 * @param {{ stage: StageEntry, onopen: (step: string) => void, viewOf: (step: string) => StepView | undefined }} wiring
 *   onopen: this step has to be unfolded
 */
export function createSingle({ stage, onopen, viewOf }) {
  const arrow = (/** @type {string} */ label, /** @type {"left" | "fold"} */ sign, /** @type {number} */ by) =>
    h("button", { class: "round single-arrow", type: "button", "aria-label": label, onclick: () => ((walked = true), go(at + by)) }, icon(sign));
  const [back, on] = [arrow("Previous control", "left", -1), arrow("Next control", "fold", 1)];
  const name = h("p", { class: "single-name" });
  const place = h("p", { class: "quiet single-place" });
  const el = h("div", { class: "single" }, back, h("div", { class: "single-words", role: "status" }, name, place), on);
  /** @type {Stop[]} */
  let stops = [];
  /** @type {Set<string>} */
  let changed = new Set();
  let at = 0;
  /** Whether a person has gone on from where it began. */
  let walked = false;

  const keyOf = (/** @type {Stop} */ { step, control }) => `${step}.${control}`;

  /** Curves stand as one. @param {StageEntry["steps"][number]} step */
  function controlsOf(step) {
    const curves = step.controls.filter(({ kind }) => kind === "curve").map(({ id }) => id);
    return step.controls.map(({ id }) => id).filter((id) => !curves.includes(id) || id === curves[0]);
  }

  /** @param {number} next */
  function go(next) {
    at = Math.max(0, Math.min(stops.length - 1, next));
    const stop = stops[at];
    if (!stop) return;
    onopen(stop.step);
    show();
  }

  function show() {
    const stop = stops[at];
    for (const { id } of stage.steps) viewOf(id)?.only(id === stop?.step ? stop.control : null);
    const step = stage.steps.find(({ id }) => id === stop?.step);
    const control = step?.controls.find(({ id }) => id === stop?.control);
    if (!stop || !step || !control) return;
    const own = control.kind === "curve" || control.label === step.label ? step.label : `${step.label}: ${control.label.toLowerCase()}`;
    text(name, own);
    text(place, `${at + 1} of ${stops.length}${changed.has(keyOf(stop)) ? ", changed" : ""}`);
    attribute(name, "data-changed", changed.has(keyOf(stop)));
    back.disabled = at === 0;
    on.disabled = at === stops.length - 1;
  }

  return {
    el,
    show,
    /**
     * @param {{ step: string, changed: string[] }[]} steps
     * @param {boolean} opened the stage has just been opened
     */
    arrange(steps, opened) {
      const kept = stops[at];
      changed = new Set(steps.flatMap((it) => it.changed.map((control) => keyOf({ step: it.step, control }))));
      walked &&= !opened;
      if (!walked) {
        const all = stage.steps.flatMap((step) => controlsOf(step).map((control) => ({ step: step.id, control })));
        const first = all.filter((stop) => changed.has(keyOf(stop)));
        stops = [...first, ...all.filter((stop) => !first.includes(stop))];
        const before = opened && kept ? stops.findIndex((stop) => keyOf(stop) === keyOf(kept)) : -1;
        go(Math.max(0, before));
      } else show();
    },
  };
}
