/** Whether kept settings are ones that this release knows, and what is left of them if not. */

/** @import { Catalogue, ControlEntry, Doc, LookData, StageId, StageSettings, StepEntry } from "../../../types.js" */

import { fitted } from "./limits.js";

/** The newest version of a look; the core reads older ones too. @type {LookData["lookwright"]} */
export const NEWEST = 3;
const LOOK_STAGES = /** @type {const} */ (["lens", "negative", "scan", "print"]);

/** @param {unknown} it @returns {it is Record<string, unknown>} */
export const isRecord = (it) => typeof it === "object" && it !== null && !Array.isArray(it);

/**
 * @param {ControlEntry} control
 * @param {unknown} value
 */
function fits(control, value) {
  switch (control.kind) {
    case "number":
      return typeof value === "number" && value >= control.min && value <= control.max && (!control.whole || Number.isInteger(value));
    case "switch":
      return typeof value === "boolean";
    case "choice":
      return control.options.some(({ id }) => id === value);
    case "curve":
      return Array.isArray(value) && value.length <= control.max_points && value.every((point) => Array.isArray(point) && point.length === 2 && point.every(Number.isFinite));
  }
}

/**
 * @param {Catalogue} catalogue
 * @param {StepEntry} step
 * @param {string} key
 * @param {unknown} value
 */
function fitsStep(catalogue, step, key, value) {
  if (key === "on") return typeof value === "boolean";
  if (key === "amount") return typeof value === "number" && value >= catalogue.amount.min && value <= catalogue.amount.max;
  const control = step.controls.find(({ id }) => id === key);
  return control !== undefined && fits(control, value);
}

/**
 * @param {Catalogue} catalogue
 * @param {StageId} id
 * @param {unknown} settings
 * @param {string[]} left out: paths of what this release doesn't know, added to
 * @returns {StageSettings}
 */
function mendedStage(catalogue, id, settings, left) {
  const stage = catalogue.stages.find((it) => it.id === id);
  if (!isRecord(settings) || !stage) {
    left.push(id);
    return {};
  }
  const faults = left.length;
  /** @type {Record<string, import("../../../types.js").StepSettings>} */
  const mended = {};
  for (const [key, values] of Object.entries(settings)) {
    const step = stage.steps.find((it) => it.id === key);
    if (!step || !isRecord(values)) {
      left.push(`${id}.${key}`);
      continue;
    }
    const entries = Object.entries(values).filter(([control, value]) => {
      const good = fitsStep(catalogue, step, control, value);
      if (!good) left.push(`${id}.${key}.${control}`);
      return good;
    });
    if (entries.length > 0) mended[key] = /** @type {import("../../../types.js").StepSettings} */ (Object.fromEntries(entries));
  }
  return left.length === faults ? /** @type {StageSettings} */ (settings) : mended;
}

/**
 * @param {Catalogue} catalogue
 * @param {unknown} look
 * @param {string[]} left
 * @returns {LookData}
 */
function mendedLook(catalogue, look, left) {
  if (!isRecord(look)) {
    left.push("look");
    return { lookwright: NEWEST };
  }
  const version = look["lookwright"];
  const known = typeof version === "number" && version >= 1 && version <= NEWEST;
  if (!known) left.push(`version ${String(version)} of the look`);
  /** @type {Record<string, unknown>} */
  const mended = { lookwright: known ? version : NEWEST };
  for (const [key, value] of Object.entries(look)) {
    const stage = LOOK_STAGES.find((it) => it === key);
    if (stage) mended[key] = mendedStage(catalogue, stage, value, left);
    else if ((key === "name" || key === "note") && typeof value === "string") mended[key] = value;
    else if (key !== "lookwright") left.push(key);
  }
  return /** @type {LookData} */ (/** @type {unknown} */ (fitted(mended).look));
}

/**
 * Un-render has taken the place of what releases before called `unroll`.
 * @param {unknown} settings a frame's
 */
function withoutUnroll(settings) {
  const source = isRecord(settings) ? settings["source"] : null;
  if (!isRecord(settings) || !isRecord(source) || !("unroll" in source)) return settings;
  const { unroll: _, ...rest } = source;
  const { source: __, ...others } = settings;
  return Object.keys(rest).length > 0 ? { ...others, source: rest } : others;
}

/** Settings that were found good, or what they became. @type {WeakMap<object, { value: any, left: string[] }>} */
const seen = new WeakMap();

/**
 * Documents share most of their parts, so each part is looked at once.
 * @template T
 * @param {unknown} part
 * @param {(left: string[]) => T} mend
 * @returns {{ value: T, left: string[] }}
 */
function once(part, mend) {
  const key = isRecord(part) ? part : {};
  let found = seen.get(key);
  if (!found) {
    /** @type {string[]} */
    const left = [];
    found = { value: mend(left), left };
    seen.set(key, found);
  }
  return found;
}

/**
 * @param {Catalogue} catalogue
 * @param {Doc} doc of which nothing is certain
 * @returns {{ doc: Doc, left: string[] }} left: what this release doesn't know and leaves out
 */
export function mended(catalogue, doc) {
  const look = once(doc.look, (left) => mendedLook(catalogue, doc.look, left));
  const delivery = once(doc.delivery, (left) => mendedStage(catalogue, "screen", doc.delivery ?? {}, left));
  const left = [...look.left, ...delivery.left];
  const frames = Object.entries(isRecord(doc.frames) ? doc.frames : {}).map(([id, settings]) => {
    const frame = once(settings, (faults) => mendedStage(catalogue, "intake", withoutUnroll(settings), faults));
    left.push(...frame.left);
    return /** @type {const} */ ([id, frame.value]);
  });
  return { doc: { ...doc, look: look.value, delivery: delivery.value, frames: Object.fromEntries(frames) }, left: [...new Set(left)] };
}
