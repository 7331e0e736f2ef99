/** Editing a curve's points: always ordered, never doubled, ends included. */

/** @import { CurvePoints } from "../../types.js" */

/** Least distance between two points. */
const GAP = 0.005;

/** @type {CurvePoints} */
const ENDS = [[0, 0], [1, 1]];

/**
 * @param {CurvePoints} points as stored: none is the identity
 * @returns {CurvePoints} as drawn: with its ends
 */
export function drawn(points) {
  return points.length === 0 ? ENDS : points;
}

/**
 * @param {CurvePoints} points as drawn
 * @returns {CurvePoints} as stored
 */
export function stored(points) {
  const identity = points.length === 2 && points.every(([x, y], i) => x === i && y === i);
  return identity ? [] : points;
}

/**
 * @param {CurvePoints} points as drawn
 * @param {number} index
 * @param {number} x wanted
 * @param {number} y wanted
 * @returns {CurvePoints} with the point moved, held between its neighbours
 */
export function moved(points, index, x, y) {
  const left = points[index - 1];
  const right = points[index + 1];
  const low = left ? left[0] + GAP : 0;
  const high = right ? right[0] - GAP : 1;
  const place = /** @type {[number, number]} */ ([tidy(Math.min(high, Math.max(low, x))), tidy(Math.min(1, Math.max(0, y)))]);
  return points.map((point, i) => (i === index ? place : point));
}

/**
 * @param {CurvePoints} points as drawn
 * @param {number} x
 * @param {number} y
 * @returns {{ points: CurvePoints, index: number } | null} null where a point is already
 */
export function added(points, x, y) {
  if (points.some((point) => Math.abs(point[0] - x) < GAP)) return null;
  const place = /** @type {[number, number]} */ ([tidy(x), tidy(y)]);
  const index = points.filter((point) => point[0] < x).length;
  return { points: [...points.slice(0, index), place, ...points.slice(index)], index };
}

/**
 * @param {CurvePoints} points as drawn
 * @param {number} index
 * @returns {CurvePoints} without the point; the two that a curve needs stay
 */
export function removed(points, index) {
  return points.length <= 2 ? points : points.filter((_, i) => i !== index);
}

/**
 * @param {CurvePoints} points as drawn
 * @returns {number} middle of the widest gap
 */
export function widestGap(points) {
  let best = { width: 0, middle: 0.5 };
  for (let i = 1; i < points.length; i += 1) {
    const from = /** @type {[number, number]} */ (points[i - 1])[0];
    const to = /** @type {[number, number]} */ (points[i])[0];
    if (to - from > best.width) best = { width: to - from, middle: (from + to) / 2 };
  }
  return best.middle;
}

/** @param {number} value */
function tidy(value) {
  return Number(value.toFixed(4));
}
