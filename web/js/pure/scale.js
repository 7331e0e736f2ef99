/** How a slider spreads a control's range, and how its numbers are written and read. */

/** @import { NumberControl } from "../../types.js" */

/** @type {Record<NumberControl["scale"], { bend: (value: number) => number, straighten: (bent: number) => number }>} */
const SCALES = {
  linear: { bend: (value) => value, straighten: (bent) => bent },
  ratio: { bend: Math.log, straighten: Math.exp },
  mired: { bend: (value) => -1e6 / value, straighten: (bent) => -1e6 / bent },
};

/**
 * Where a value lies on the slider.
 * @param {NumberControl} control
 * @param {number} value
 * @returns {number} 0 ... 1
 */
export function toPosition(control, value) {
  const { bend } = SCALES[control.scale];
  const low = bend(control.min);
  return (bend(clamp(control, value)) - low) / (bend(control.max) - low);
}

/**
 * The value at a place of the slider, rounded to the control's step.
 * @param {NumberControl} control
 * @param {number} position 0 ... 1
 * @returns {number}
 */
export function fromPosition(control, position) {
  const { bend, straighten } = SCALES[control.scale];
  const low = bend(control.min);
  return round(control, straighten(low + position * (bend(control.max) - low)));
}

/**
 * The value between two, as the slider goes from one to the other; on no grid.
 * @param {NumberControl} control
 * @param {number} from
 * @param {number} to
 * @param {number} share of the way
 * @returns {number}
 */
export function mixed({ scale }, from, to, share) {
  const { bend, straighten } = SCALES[scale];
  return straighten(bend(from) + (bend(to) - bend(from)) * share);
}

/**
 * @param {NumberControl} control
 * @param {number} value
 * @returns {number} `value` within the control's limits
 */
export function clamp(control, value) {
  return Math.min(control.max, Math.max(control.min, value));
}

/**
 * Rounds to the control's step, counted from zero, without leaving a tail of binary digits.
 * @param {NumberControl} control
 * @param {number} value
 * @returns {number}
 */
export function round(control, value) {
  const steps = Math.round(value / control.step);
  const exact = Number((steps * control.step).toFixed(decimals(control.step)));
  return clamp(control, exact === 0 ? 0 : exact);
}

/**
 * @param {number} step
 * @returns {number} digits after the point that multiples of `step` need
 */
export function decimals(step) {
  const text = String(step);
  const exponent = /e-(\d+)$/.exec(text);
  if (exponent) return Number(exponent[1]);
  return text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
}

/**
 * The number as it is shown: signed where the range has two sides, with a true minus.
 * @param {NumberControl} control
 * @param {number} value
 * @returns {string}
 */
export function format(control, value) {
  const needed = Math.max(decimals(control.step), Math.min(4, decimals(value)));
  const digits = Math.abs(value).toFixed(needed);
  if (value < 0) return `\u2212${digits}`;
  return control.min < 0 && value > 0 ? `+${digits}` : digits;
}

/** Digits after the point that such a number keeps, at least. */
const TYPED_DIGITS = 4;

/**
 * A number that was typed or stepped to, as the control takes it: within its limits, without a long
 * tail, but on no grid.
 * @param {NumberControl} control
 * @param {number} value
 * @returns {number}
 */
export function tidy(control, value) {
  const digits = control.whole ? 0 : Math.max(TYPED_DIGITS, decimals(control.step));
  const exact = Number(value.toFixed(digits));
  return clamp(control, exact === 0 ? 0 : exact);
}

/**
 * The control with a tenth of its step; whole numbers have none that is finer.
 * @param {NumberControl} control
 * @returns {NumberControl}
 */
export function finer(control) {
  return control.whole ? control : { ...control, step: Number((control.step / 10).toPrecision(12)) };
}

/** How units are written on screen, where files keep to plain letters. */
const UNIT_SIGNS = /** @type {Record<string, string>} */ ({ um: "\u00b5m", deg: "\u00b0", x: "\u00d7" });

/**
 * @param {string} unit as the catalogue says it
 * @returns {string}
 */
export function unitSign(unit) {
  return UNIT_SIGNS[unit] ?? unit;
}
