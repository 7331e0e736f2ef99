/** The document without a part of it: what a person sees as long as a label is held. */

/** @import { Catalogue, Doc, FrameId, StageId, Value, Without } from "../../types.js" */

import { findStage, findStep, withValue } from "./settings.js";

/**
 * @param {Catalogue} catalogue
 * @param {Doc} doc
 * @param {FrameId | null} frame
 * @param {Without} without
 * @returns {Doc}
 */
export function docWithout(catalogue, doc, frame, { stage, step, control }) {
  const entry = findStage(catalogue, stage);
  const put = (/** @type {Doc} */ from, /** @type {string} */ id, /** @type {string} */ name, /** @type {Value} */ value) => withValue(catalogue, from, frame, { stage, step: id, control: name }, value);
  if (step === undefined) return entry.steps.reduce((now, it) => put(now, it.id, "on", false), doc);
  if (control === undefined) return put(doc, step, "on", false);
  const found = findStep(entry, step).controls.find(({ id }) => id === control);
  return found ? put(doc, step, control, found.neutral) : doc;
}

/**
 * What can be left out: without the source there is no light, without the display no picture.
 * @param {Without} without
 */
export function canBeWithout({ stage, step }) {
  return stage !== "screen" && (stage !== "intake" || step === "trim");
}

/**
 * A look's document as far as a step: that one and those behind it in its stage are off.
 * @param {Catalogue} catalogue
 * @param {Doc} doc
 * @param {StageId} stage
 * @param {string} step
 * @returns {Doc}
 */
export function docUpTo(catalogue, doc, stage, step) {
  const { steps } = findStage(catalogue, stage);
  const rest = steps.slice(steps.findIndex(({ id }) => id === step));
  return rest.reduce((now, { id }) => withValue(catalogue, now, null, { stage, step: id, control: "on" }, false), doc);
}
