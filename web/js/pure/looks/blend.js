/** A look between two looks: every number between its two values, in the space that its slider has. */

/** @import { Catalogue, ControlEntry, CurvePoints, LookData, NumberControl, StageEntry, StageSettings, StepEntry, StepSettings, Value } from "../../../types.js" */

import { clamp, mixed, tidy } from "../scale.js";
import { isOn, same, stepSettings, valueOf } from "../settings.js";
import { amountControl } from "./difference.js";

/** What a look is made of. */
const STAGES = /** @type {const} */ (["lens", "negative", "scan", "print"]);
const TURN = 360;

/**
 * The look that lies between two. At 0 and 1 it is one of them. Numbers go evenly along their
 * sliders (mireds for kelvins, ratios for lengths), hues the shorter way round; a step that is off
 * in one fades by its amount; choices and switches change in the middle.
 * @param {Catalogue} catalogue
 * @param {LookData} a
 * @param {LookData} b
 * @param {number} share of `b`, 0 ... 1
 * @returns {LookData} without a name
 */
export function blend(catalogue, a, b, share) {
  if (share <= 0) return a;
  if (share >= 1) return b;
  /** @type {Record<string, StageSettings>} */
  const stages = {};
  for (const id of STAGES) {
    const stage = catalogue.stages.find((it) => it.id === id);
    const mixed = stage && blendStage(catalogue, stage, a[id] ?? {}, b[id] ?? {}, share);
    if (mixed && Object.keys(mixed).length > 0) stages[id] = mixed;
  }
  return { lookwright: a.lookwright, ...stages };
}

/**
 * @param {Catalogue} catalogue
 * @param {StageEntry} stage
 * @param {StageSettings} a
 * @param {StageSettings} b
 * @param {number} share
 */
function blendStage(catalogue, stage, a, b, share) {
  const steps = stage.steps.map((step) => /** @type {const} */ ([step.id, blendStep(catalogue, step, stepSettings(a, step.id), stepSettings(b, step.id), share)]));
  return Object.fromEntries(steps.filter(([, settings]) => Object.keys(settings).length > 0));
}

/**
 * @param {Catalogue} catalogue
 * @param {StepEntry} step
 * @param {StepSettings} a
 * @param {StepSettings} b
 * @param {number} share
 * @returns {StepSettings}
 */
function blendStep(catalogue, step, a, b, share) {
  const [onA, onB] = [isOn(a, step), isOn(b, step)];
  const on = onA || onB;
  const amount = amountControl(catalogue);
  /** @type {Record<string, Value>} */
  const settings = {};
  if (on !== step.on) settings["on"] = on;
  // What is off is as if its amount were 0; what it is set to comes from where it is on.
  const acts = (/** @type {StepSettings} */ it, /** @type {boolean} */ lit) => (lit ? /** @type {number} */ (valueOf(it, amount)) : 0);
  const strength = onA === onB ? between(amount, valueOf(a, amount), valueOf(b, amount), share) : tidied(amount, acts(a, onA) + (acts(b, onB) - acts(a, onA)) * share);
  if (!same(strength, amount.default)) settings["amount"] = strength;
  for (const control of step.controls) {
    const [from, to] = [valueOf(a, control), valueOf(b, control)];
    const value = onA === onB ? between(control, from, to, share) : onA ? from : to;
    if (!same(value, control.default)) settings[control.id] = value;
  }
  return settings;
}

/**
 * @param {ControlEntry} control
 * @param {Value} from
 * @param {Value} to
 * @param {number} share
 * @returns {Value}
 */
function between(control, from, to, share) {
  if (same(from, to)) return from;
  if (control.kind === "number") return number(control, /** @type {number} */ (from), /** @type {number} */ (to), share);
  if (control.kind === "curve") return curve(/** @type {CurvePoints} */ (from), /** @type {CurvePoints} */ (to), share);
  return share < 0.5 ? from : to;
}

/**
 * @param {NumberControl} control
 * @param {number} from
 * @param {number} to
 * @param {number} share
 */
function number(control, from, to, share) {
  if (control.unit !== "deg") return tidied(control, mixed(control, from, to, share));
  const way = ((((to - from + TURN / 2) % TURN) + TURN) % TURN) - TURN / 2;
  return tidied(control, (from + way * share + TURN) % TURN);
}

/** @param {ControlEntry} control @param {number} value */
const tidied = (control, value) => (control.kind === "number" ? tidy(control, clamp(control, value)) : value);

/** The straight line. @type {CurvePoints} */
const STRAIGHT = [[0, 0], [1, 1]];

/**
 * Each point of the curve that has more goes to the place of the other one.
 * @param {CurvePoints} from
 * @param {CurvePoints} to
 * @param {number} share
 * @returns {CurvePoints}
 */
function curve(from, to, share) {
  const [a, b] = [from, to].map((points) => (points.length === 0 ? STRAIGHT : points));
  if (!a || !b) return from;
  const long = a.length >= b.length ? a : b;
  /** @param {CurvePoints} points @returns {CurvePoints} */
  const alike = (points) => (points.length === long.length ? points : long.map(([x]) => [x, heightAt(points, x)]));
  const [first, second] = [alike(a), alike(b)];
  return first.map(([x, y], i) => {
    const [toX, toY] = second[i] ?? [x, y];
    return [x + (toX - x) * share, y + (toY - y) * share];
  });
}

/**
 * @param {CurvePoints} points
 * @param {number} x
 * @returns {number} on the lines between them; level outside
 */
function heightAt(points, x) {
  const next = points.findIndex(([at]) => at >= x);
  const [after, before] = [points[next] ?? points[points.length - 1], points[next - 1]];
  if (!after) return x;
  if (next <= 0 || !before) return after[1];
  return before[1] + ((after[1] - before[1]) * (x - before[0])) / (after[0] - before[0]);
}
