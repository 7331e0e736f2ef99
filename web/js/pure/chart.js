/** Chart check: its marks, its words, its table as a file. */

/** @import { ChartCheck, ChartCorners, LabColour } from "../../types.js" */

import { csv } from "./pins.js";

/** Where marks begin that are set by hand. @type {ChartCorners} */
export const BEGUN = [[0.3, 0.34], [0.7, 0.34], [0.7, 0.66], [0.3, 0.66]];

const signed = (/** @type {number} */ value, digits = 0) => `${value < 0 ? "\u2212" : "+"}${Math.abs(value).toFixed(digits)}`;

/**
 * @param {ChartCorners} corners
 * @param {number} which
 * @param {readonly [number, number]} to held within the picture
 * @returns {ChartCorners}
 */
export function markedAt(corners, which, to) {
  const held = /** @type {const} */ ([0, 1]).map((axis) => Math.min(1, Math.max(0, to[axis])));
  return /** @type {any} */ (corners.map((corner, i) => (i === which ? held : corner)));
}

/** @param {number} stops */
export const stopsSaid = (stops) => signed(stops, 1);

/** @param {LabColour} colour L, a, b in whole numbers */
export const labSaid = ([l, a, b]) => `${l.toFixed(0)} ${signed(a)} ${signed(b)}`;

/** @param {LabColour} colour as CSS has it, under the same light */
export const cssOf = ([l, a, b]) => `lab(${Math.min(100, Math.max(0, l)).toFixed(2)} ${a.toFixed(2)} ${b.toFixed(2)})`;

/** @param {NonNullable<ChartCheck["trim"]>} trim */
export function trimSaid({ exposure, kelvin, tint, greys }) {
  const by = greys === 6 ? "all six greys" : greys === 1 ? "one grey" : `${greys} of the six greys`;
  return `Exposure ${signed(exposure, 2)} stops, light ${kelvin} K, tint ${signed(tint, 4)}: by ${by}.`;
}

/** @param {ChartCheck} check */
export function differencesSaid({ patches }) {
  const mean = (/** @type {0 | 1} */ of) => patches.reduce((sum, { differences }) => sum + differences[of], 0) / patches.length;
  const farthest = patches.reduce((most, patch) => (patch.differences[1] > most.differences[1] ? patch : most));
  return `From the published colours: dE ${mean(0).toFixed(1)} on average without the look, ${mean(1).toFixed(1)} with it; farthest then is ${farthest.name}, ${farthest.differences[1].toFixed(1)}.`;
}

/**
 * How a colour moves, in words.
 * @param {string} name
 * @param {LabColour} from
 * @param {LabColour} to
 */
export function shiftSaid(name, from, to) {
  const chroma = (/** @type {LabColour} */ [, a, b]) => Math.hypot(a, b);
  const hue = (/** @type {LabColour} */ [, a, b]) => (Math.atan2(b, a) * 180) / Math.PI;
  const turn = ((((hue(to) - hue(from)) % 360) + 540) % 360) - 180;
  // Greys have hardly a hue to turn.
  const turned = Math.min(chroma(from), chroma(to)) < 3 ? "" : `, hue ${signed(turn)}\u00b0`;
  return `${name}: lightness ${signed(to[0] - from[0])}, chroma ${signed(chroma(to) - chroma(from))}${turned}`;
}

/**
 * The table of all patches: a line each (RFC 4180).
 * @param {string} frame
 * @param {ChartCheck} check
 */
export function csvOf(frame, { patches }) {
  const colours = ["published", "frame", "look"].flatMap((of) => ["L", "a", "b"].map((axis) => `${of} ${axis}`));
  const head = ["frame", "patch", "stops", "spread", "clipped", ...colours, "frame dE2000", "look dE2000"];
  const lines = patches.map(({ name, stops, spread, clipped, colours, differences }) => [
    frame,
    name,
    stops.toFixed(3),
    spread.toFixed(4),
    clipped ? "yes" : "no",
    ...colours.flat().map((value) => value.toFixed(2)),
    ...differences.map((value) => value.toFixed(2)),
  ]);
  return csv([head, ...lines]);
}
