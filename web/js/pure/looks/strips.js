/** Test strips: one setting in steps about its present value, as a darkroom exposes one sheet in steps. */

/** @import { Catalogue, ControlEntry, NumberControl, StageId, Value } from "../../../types.js" */

import { clamp, fromPosition, round, toPosition } from "../scale.js";
import { amountControl, lowered } from "./difference.js";
import { same } from "../settings.js";
import { spoken } from "../summary.js";

/** @typedef {{ value: Value, label: string, present: boolean }} Strip */

/** Stops of the strip that a darkroom begins with. */
const STOPS = [-3, -2, -1, 0, 1, 2, 3];
/** Strips of any other number, and how far they lie apart on its slider. */
const COUNT = 5;
export const WIDTHS = /** @type {const} */ ({ fine: 0.03, usual: 0.08, wide: 0.2 });

/**
 * The strips of a control. A number's lie about its present value, which is one of them to the last digit;
 * near an end they move inwards.
 * @param {ControlEntry} control
 * @param {Value} present
 * @param {number} width how far they lie apart, as a share of the slider
 * @returns {Strip[]} in the slider's order; none for curves
 */
export function stripsOf(control, present, width) {
  const strip = (/** @type {Value} */ value) => ({ value, label: spoken(control, value), present: same(value, present) });
  switch (control.kind) {
    case "number":
      return around(control, /** @type {number} */ (present), width).map(strip);
    case "choice":
      return control.options.map(({ id }) => strip(id));
    case "switch":
      return [false, true].map(strip);
    case "curve":
      return [];
  }
}

/**
 * @param {NumberControl} control
 * @param {number} present
 * @param {number} width
 * @returns {number[]}
 */
function around(control, present, width) {
  const place = toPosition(control, present);
  const half = (COUNT - 1) / 2;
  // So many lie before it that all find room.
  const before = Math.min(COUNT - 1, Math.max(0, Math.min(Math.floor(place / width + 1e-9), Math.max(half, COUNT - 1 - Math.floor((1 - place) / width + 1e-9)))));
  const values = Array.from({ length: COUNT }, (_, i) => (i === before ? present : fromPosition(control, Math.min(1, Math.max(0, place + (i - before) * width)))));
  return [...new Set(values)].sort((a, b) => toPosition(control, a) - toPosition(control, b));
}

/**
 * The exposure strip: three stops down to three stops up from where the frame stands.
 * @param {NumberControl} control of the exposure
 * @param {number} present
 * @returns {Strip[]} fewer at the ends of the control's range
 */
export function exposureStrips(control, present) {
  const values = STOPS.map((stops) => ({ stops, value: stops === 0 ? present : clamp(control, round(control, present + stops)) }));
  const seen = values.filter(({ value, stops }, i) => stops === 0 || values.findIndex((it) => it.value === value) === i);
  return seen.map(({ stops, value }) => ({ value, label: stops === 0 ? "as it is" : `${stops > 0 ? "+" : "\u2212"}${Math.abs(stops)} ${Math.abs(stops) === 1 ? "stop" : "stops"}`, present: stops === 0 }));
}

/** Steps that say what a file or a screen is, which is no matter of taste. */
const SET_ONCE = ["source", "display"];

/**
 * Whatever can be made strips of, by step.
 * @param {Catalogue} catalogue
 * @returns {{ label: string, places: { stage: StageId, step: string, control: ControlEntry }[] }[]}
 */
export function stripPlaces(catalogue) {
  const groups = catalogue.stages.flatMap((stage) =>
    stage.steps.map((step) => {
      const frames = stage.id === "intake" || stage.id === "screen";
      const controls = step.controls.filter((control) => control.kind !== "curve" && control.id !== "seed");
      const all = frames ? controls : [...controls, amountControl(catalogue)];
      return { label: `${stage.label}: ${lowered(step.label)}`, places: all.map((control) => ({ stage: stage.id, step: step.id, control })) };
    }),
  );
  return groups.filter(({ places }) => places.length > 0 && !SET_ONCE.includes(places[0]?.step ?? ""));
}
