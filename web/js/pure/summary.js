/** One line that says what a stage or a step is set to. */

/** @import { ControlEntry, StageEntry, StageSettings, StepEntry, StepSettings, Value } from "../../types.js" */

import { format, unitSign } from "./scale.js";
import { isOn, same, stepSettings, valueOf } from "./settings.js";

/**
 * A value as it is said: `+0.30 stops`, `LogC3`, `3 points`.
 * @param {ControlEntry} control
 * @param {Value} value
 * @returns {string}
 */
export function spoken(control, value) {
  switch (control.kind) {
    case "number": {
      const unit = unitSign(control.unit);
      const number = format(control, /** @type {number} */ (value));
      if (unit === "" || unit === "share") return number;
      return unit === "\u00d7" || unit === "\u00b0" ? `${number}${unit}` : `${number} ${unit}`;
    }
    case "choice":
      return control.options.find((option) => option.id === value)?.label ?? String(value);
    case "switch":
      return value ? "on" : "off";
    case "curve": {
      const points = /** @type {unknown[]} */ (value).length;
      return points === 0 ? "straight" : `${points} points`;
    }
  }
}

/**
 * @param {StepEntry} step
 * @param {StepSettings} settings
 * @returns {string[]} what differs from a starting look, said shortly
 */
function changes(step, settings) {
  return step.controls
    .filter((control) => !same(valueOf(settings, control), control.default))
    .map((control) => changeOf(step, control, valueOf(settings, control)));
}

/**
 * What a step is mostly about is said alone ("Lamp"), all else with its name ("backing none").
 * @param {StepEntry} step
 * @param {ControlEntry} control
 * @param {Value} value
 * @returns {string}
 */
function changeOf(step, control, value) {
  const said = spoken(control, value);
  if (control.kind !== "choice") return `${control.label.toLowerCase()} ${said}`;
  return control === step.controls[0] ? said : `${control.label.toLowerCase()} ${said.toLowerCase()}`;
}

/**
 * @param {StepEntry} step
 * @param {StepSettings} settings
 * @returns {string}
 */
export function stepSummary(step, settings) {
  if (!isOn(settings, step)) return "off";
  const changed = changes(step, settings);
  if (changed.length === 0) {
    const choice = step.controls.find((control) => control.kind === "choice");
    return choice ? spoken(choice, valueOf(settings, choice)) : "";
  }
  return changed.length > 2 ? `${changed.length} changes` : changed.join(" \u00b7 ");
}

/**
 * @param {StepEntry} step
 * @param {StepSettings} settings
 * @returns {string[]} the step's name and the first thing changed in it; none if nothing is
 */
function firstChange(step, settings) {
  const control = step.controls.find((it) => !same(valueOf(settings, it), it.default));
  if (!control) return [];
  const value = valueOf(settings, control);
  return [control.kind === "choice" ? changeOf(step, control, value) : `${step.label.toLowerCase()} ${spoken(control, value)}`];
}

/**
 * @param {StepEntry} step
 * @param {StepSettings} settings
 * @returns {string[]} what acts: numbers that are not neutral
 */
function acting(step, settings) {
  return step.controls.flatMap((control) => {
    if (control.kind !== "number" || control.whole) return [];
    const value = valueOf(settings, control);
    return same(value, control.neutral) ? [] : [`${control.label.toLowerCase()} ${spoken(control, value)}`];
  });
}

/**
 * The first lit step's choices and what has been changed; else what acts of itself.
 * @param {StageEntry} stage
 * @param {StageSettings} settings
 * @returns {string}
 */
export function stageSummary(stage, settings) {
  const own = (/** @type {StepEntry} */ step) => stepSettings(settings, step.id);
  const lit = stage.steps.filter((step) => isOn(own(step), step));
  const [first] = lit;
  if (!first) return "off";
  const choices = first.controls
    .slice(0, 2)
    .flatMap((control) => (control.kind === "choice" ? [spoken(control, valueOf(own(first), control))] : []));
  const changed = lit.flatMap((step) => firstChange(step, own(step)));
  const parts = [...new Set([...choices, ...changed])];
  if (parts.length === 0) parts.push(...lit.flatMap((step) => acting(step, own(step))).slice(0, 3));
  if (parts.length === 0) return "neutral";
  return parts.length > 4 ? `${parts.slice(0, 3).join(" \u00b7 ")} \u2026` : parts.join(" \u00b7 ");
}
