/** Scan codes in the words of a person: code, stops from mid-grey, and what is seen. */

/** @import { ScanScale } from "../../types.js" */

const CODE_MAX = 1023;

/**
 * @param {ArrayLike<number>} samples one for each of the codes 0 ... 1023
 * @param {number} code a share of 1023
 * @returns {number} NaN where a neighbour is
 */
function at(samples, code) {
  const place = Math.min(1, Math.max(0, code)) * (samples.length - 1);
  const low = Math.min(samples.length - 2, Math.floor(place));
  const share = place - low;
  const [a, b] = [/** @type {number} */ (samples[low]), /** @type {number} */ (samples[low + 1])];
  if (share === 0) return a;
  return a + (b - a) * share;
}

/** @param {number} code a share of 1023 */
export function codeSaid(code) {
  return `code ${Math.round(code * CODE_MAX)}`;
}

/**
 * @param {ScanScale} scale
 * @param {number} code a share of 1023
 */
export function stopsSaid(scale, code) {
  const stops = at(scale.stops, code);
  if (Number.isNaN(stops)) return "no exposure gives this code";
  const digits = Math.abs(stops).toFixed(1);
  const sign = digits === "0.0" ? "" : stops < 0 ? "\u2212" : "+";
  return `${sign}${digits} stops`;
}

/**
 * @param {ScanScale} scale
 * @param {number} code a share of 1023
 */
export function screenSaid(scale, code) {
  return `screen ${Math.round(at(scale.screen, code) * 255)} of 255`;
}

/**
 * A curve's point: the code that goes in and its light, the code that comes out and what is seen.
 * @param {ScanScale | null} scale none while it is not known yet
 * @param {number} x
 * @param {number} y
 */
export function pointSaid(scale, x, y) {
  if (!scale) return `in ${codeSaid(x)}; out ${codeSaid(y)}`;
  return `in ${codeSaid(x)}, ${stopsSaid(scale, x)}; out ${codeSaid(y)}, ${screenSaid(scale, y)}`;
}
