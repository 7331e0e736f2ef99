/** What of a stage differs from how it came: counted for its marks, and put first in its panel. */

/** @import { StageEntry, StageSettings, StepEntry, StepSettings } from "../../types.js" */

import { isOn, same, stepSettings, valueOf } from "./settings.js";

/**
 * The controls of a step that have been set, `on` and `amount` among them.
 * @param {StepEntry} step
 * @param {StepSettings} settings
 * @param {StepSettings} [came] what the frame brought of itself
 * @returns {string[]} ids
 */
export function changedControls(step, settings, came = {}) {
  const controls = step.controls.filter((control) => !same(valueOf(settings, control), valueOf(came, control))).map(({ id }) => id);
  const amount = "amount" in settings ? ["amount"] : [];
  const on = isOn(settings, step) === isOn(came, step) ? [] : ["on"];
  return [...controls, ...amount, ...on];
}

/**
 * @param {StageEntry} stage
 * @param {StageSettings} settings
 * @param {StageSettings} [came]
 */
export function changedCount(stage, settings, came = {}) {
  return stage.steps.reduce((sum, step) => sum + changedControls(step, stepSettings(settings, step.id), stepSettings(came, step.id)).length, 0);
}
