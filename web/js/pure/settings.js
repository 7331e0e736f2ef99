/** Reading and changing settings by place. Defaults are left out, as in the files. */

/** @import { Catalogue, ControlEntry, Doc, FrameId, NumberControl, Place, StageEntry, StageId, StageSettings, StepEntry, StepSettings, Value } from "../../types.js" */

/** @type {StepSettings} */
const NOTHING = Object.freeze({});

/**
 * The settings of one stage: the frame's, the look's or the delivery's.
 * @param {Doc} doc
 * @param {StageId} stage
 * @param {FrameId | null} frame
 * @returns {StageSettings}
 */
export function stageSettings(doc, stage, frame) {
  if (stage === "screen") return doc.delivery;
  if (stage === "intake") return (frame !== null && doc.frames[frame]) || {};
  return doc.look[stage] ?? {};
}

/**
 * @param {StageSettings} settings
 * @param {string} step
 * @returns {StepSettings}
 */
export function stepSettings(settings, step) {
  return settings[step] ?? NOTHING;
}

/**
 * @param {StepSettings} settings
 * @param {StepEntry} step
 * @returns {boolean}
 */
export function isOn(settings, step) {
  return /** @type {boolean} */ (settings.on ?? step.on);
}

/**
 * @param {StepSettings} settings
 * @param {ControlEntry} control
 * @returns {Value}
 */
export function valueOf(settings, control) {
  return settings[control.id] ?? control.default;
}

/**
 * @param {Catalogue} catalogue
 * @param {Place} place
 * @returns {Value} the value of a starting look
 */
export function defaultOf(catalogue, { stage, step, control }) {
  const entry = findStep(findStage(catalogue, stage), step);
  if (control === "on") return entry.on;
  if (control === "amount") return catalogue.amount.default;
  const found = entry.controls.find((it) => it.id === control);
  if (!found) throw new Error(`no control ${stage}.${step}.${control}`);
  return found.default;
}

/**
 * @param {Catalogue} catalogue
 * @param {StageId} stage
 * @returns {StageEntry}
 */
export function findStage(catalogue, stage) {
  const found = catalogue.stages.find((it) => it.id === stage);
  if (!found) throw new Error(`no stage ${stage}`);
  return found;
}

/**
 * @param {StageEntry} stage
 * @param {string} step
 * @returns {StepEntry}
 */
export function findStep(stage, step) {
  const found = stage.steps.find((it) => it.id === step);
  if (!found) throw new Error(`no step ${stage.id}.${step}`);
  return found;
}

/**
 * @param {StepEntry} step
 * @returns {(id: string) => NumberControl} its numbers, by name
 */
export const numberOf = (step) => (id) => {
  const found = step.controls.find((control) => control.id === id);
  if (found?.kind !== "number") throw new Error(`no number ${step.id}.${id}`);
  return found;
};

/**
 * The document with one setting changed; the same document if nothing changes.
 * @param {Catalogue} catalogue
 * @param {Doc} doc
 * @param {FrameId | null} frame
 * @param {Place} place
 * @param {Value} value
 * @returns {Doc}
 */
export function withValue(catalogue, doc, frame, place, value) {
  const stage = stageSettings(doc, place.stage, frame);
  const step = stepSettings(stage, place.step);
  const initial = defaultOf(catalogue, place);
  if (same(step[place.control] ?? initial, value)) return doc;
  const changed = without(step, place.control);
  if (!same(value, initial)) changed[place.control] = value;
  const settings = without(stage, place.step);
  if (Object.keys(changed).length > 0) settings[place.step] = changed;
  return withStage(doc, place.stage, frame, settings);
}

/**
 * @param {Doc} doc
 * @param {StageId} stage
 * @param {FrameId | null} frame
 * @param {StageSettings} settings
 * @returns {Doc}
 */
export function withStage(doc, stage, frame, settings) {
  if (stage === "screen") return { ...doc, delivery: settings };
  if (stage !== "intake") {
    const { [stage]: _, ...rest } = doc.look;
    const empty = Object.keys(settings).length === 0;
    return { ...doc, look: empty ? rest : { ...rest, [stage]: settings } };
  }
  return frame === null ? doc : { ...doc, frames: { ...doc.frames, [frame]: settings } };
}

/**
 * @param {Value} a
 * @param {Value} b
 * @returns {boolean}
 */
export function same(a, b) {
  return a === b || (Array.isArray(a) && Array.isArray(b) && JSON.stringify(a) === JSON.stringify(b));
}

/**
 * @template T
 * @param {Readonly<Record<string, T>>} record
 * @param {string} key
 * @returns {Record<string, T>}
 */
function without(record, key) {
  const { [key]: _, ...rest } = record;
  return rest;
}
