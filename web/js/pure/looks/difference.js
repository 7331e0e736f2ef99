/** What differs between two looks, said with the labels of the catalogue. */

/** @import { Catalogue, ControlEntry, StageEntry, StageId, StageSettings, StepEntry, StepSettings, Value } from "../../../types.js" */

import { format } from "../scale.js";
import { isOn, same, stepSettings, valueOf } from "../settings.js";
import { spoken } from "../summary.js";

/**
 * Settings by stage: a look is that, and so is what stands for a frame or a delivery
 * (`{ intake: settings }`, `{ screen: settings }`).
 * @typedef {{ readonly [S in StageId]?: StageSettings }} StagesSet
 */

/**
 * One thing that differs.
 * @typedef {object} Difference
 * @property {StageId} stage
 * @property {string} step
 * @property {string} control a control's id, `on` or `amount`
 * @property {string} label `slope`, `halation strength`; of a step put on or off its name
 * @property {Value} before
 * @property {Value} after
 * @property {string} from as it is said: `1.60`
 * @property {string} to with the unit: `1.74×`
 * @property {boolean} idle whether it can't be seen, because the step is off afterwards
 */

/** Texts that stand for more than one control need their step's name. @type {WeakMap<Catalogue, Set<string>>} */
const ambiguous = new WeakMap();

/** @param {Catalogue} catalogue */
function ambiguousLabels(catalogue) {
  let found = ambiguous.get(catalogue);
  if (!found) {
    const all = catalogue.stages.flatMap(({ steps }) => steps.flatMap(({ label, controls }) => [label, ...controls.map((control) => control.label)]));
    found = new Set(all.filter((label, i) => all.indexOf(label) !== i));
    ambiguous.set(catalogue, found);
  }
  return found;
}

/** @param {string} words with a small initial, unless they begin with a code such as `D65` */
export const lowered = (words) => (/^[A-Z][^A-Z0-9]/.test(words) ? words.charAt(0).toLowerCase() + words.slice(1) : words);

/**
 * What a control is called where its step is not seen: `slope`, `halation strength`.
 * @param {Catalogue} catalogue
 * @param {StepEntry} step
 * @param {{ label: string }} control
 */
export function controlName(catalogue, step, { label }) {
  // A step is often called after what it is mostly about: light balance, print white.
  if (` ${lowered(step.label)} `.includes(` ${lowered(label)} `)) return lowered(step.label);
  return ambiguousLabels(catalogue).has(label) ? `${lowered(step.label)} ${lowered(label)}` : lowered(label);
}

/** The amount of a step, as a control. @param {Catalogue} catalogue @returns {ControlEntry} */
export function amountControl({ amount }) {
  return { kind: "number", id: "amount", label: "Amount", help: "", unit: "", ...amount, step: 0.01, whole: false, scale: "linear", neutral: 0 };
}

/**
 * All that differs, in the order of the light path.
 * @param {Catalogue} catalogue
 * @param {StagesSet} from
 * @param {StagesSet} to
 * @returns {Difference[]}
 */
export function differences(catalogue, from, to) {
  return catalogue.stages.flatMap((stage) => {
    const [before, after] = [from[stage.id] ?? {}, to[stage.id] ?? {}];
    if (before === after) return [];
    return stage.steps.flatMap((step) => stepDifferences(catalogue, stage, step, stepSettings(before, step.id), stepSettings(after, step.id)));
  });
}

/**
 * @param {Catalogue} catalogue
 * @param {StageEntry} stage
 * @param {StepEntry} step
 * @param {StepSettings} before
 * @param {StepSettings} after
 * @returns {Difference[]}
 */
function stepDifferences(catalogue, stage, step, before, after) {
  const place = { stage: stage.id, step: step.id };
  const on = isOn(after, step);
  /** @type {Difference[]} */
  const found = [];
  if (on !== isOn(before, step)) {
    found.push({ ...place, control: "on", label: lowered(step.label), before: !on, after: on, from: on ? "off" : "on", to: on ? "on" : "off", idle: false });
  }
  for (const control of [amountControl(catalogue), ...step.controls]) {
    const values = /** @type {const} */ ([valueOf(before, control), valueOf(after, control)]);
    if (same(...values)) continue;
    const label = control.id === "amount" ? `${lowered(step.label)} amount` : controlName(catalogue, step, control);
    found.push({ ...place, control: control.id, label, before: values[0], after: values[1], ...said(control, ...values), idle: !on });
  }
  return found;
}

/**
 * @param {ControlEntry} control
 * @param {Value} before
 * @param {Value} after
 * @returns {{ from: string, to: string }} two texts that differ
 */
function said(control, before, after) {
  const to = spoken(control, after);
  if (control.kind === "number") {
    const from = format(control, /** @type {number} */ (before));
    if (from !== format(control, /** @type {number} */ (after))) return { from, to };
    return { from: String(before), to: String(after) };
  }
  if (control.kind === "curve") {
    const from = spoken(control, before);
    return from === to ? { from, to: `${to}, moved` } : { from, to };
  }
  return { from: lowered(spoken(control, before)), to: lowered(to) };
}

/** @param {Difference} difference @returns {string} `slope 1.60 to 1.74×`, `halation off` */
export function differenceSaid({ control, label, from, to }) {
  return control === "on" ? `${label} ${to}` : `${label} ${from} to ${to}`;
}

/**
 * All of it in one line: `slope 1.60 to 1.74×; halation off`. What can't be seen, because its step is
 * off, is only counted.
 * @param {readonly Difference[]} found
 * @returns {string} empty if nothing differs
 */
export function differencesSaid(found) {
  const seen = found.filter(({ idle }) => !idle).map(differenceSaid);
  const idle = found.length - seen.length;
  if (idle === 0) return seen.join("; ");
  const rest = `${idle} ${idle === 1 ? "value" : "values"} of steps that are off`;
  return seen.length === 0 ? `only ${rest}` : `${seen.join("; ")}; and ${rest}`;
}

/**
 * How many settings two looks differ by, as it is said: `6 changes`.
 * @param {number} count
 */
export const changesSaid = (count) => (count === 1 ? "1 change" : `${count} changes`);
