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
    .map((control) => {
      const said = spoken(control, valueOf(settings, control));
      return control.kind === "choice" ? said : `${control.label.toLowerCase()} ${said}`;
    });
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
 * The first step's choices, then what has been changed.
 * @param {StageEntry} stage
 * @param {StageSettings} settings
 * @returns {string}
 */
export function stageSummary(stage, settings) {
  const active = stage.steps.filter((step) => isOn(stepSettings(settings, step.id), step));
  if (active.length === 0) return "light passes as it is";
  const parts = [];
  const first = stage.steps[0];
  if (first && active.includes(first)) {
    for (const control of first.controls.slice(0, 2)) {
      if (control.kind !== "choice") continue;
      parts.push(spoken(control, valueOf(stepSettings(settings, first.id), control)));
    }
  }
  for (const step of active) {
    for (const change of changes(step, stepSettings(settings, step.id))) {
      if (!parts.includes(change)) parts.push(change);
    }
  }
  if (parts.length === 0) return active.map((step) => step.label.toLowerCase()).join(", ");
  return parts.length > 4 ? `${parts.slice(0, 3).join(" \u00b7 ")} \u2026` : parts.join(" \u00b7 ");
}
