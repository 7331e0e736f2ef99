/** Pinned probes: places of the picture whose numbers stay in sight. */

/** @import { Catalogue, Pin, Pinned, Size } from "../../types.js" */

/** Sides of the squares that can be averaged, in pixels. */
export const SIDES = /** @type {const} */ ([1, 9, 33]);
/** As many as a table can show. */
export const MOST = 9;

/**
 * @param {{ x: number, y: number }} place
 * @param {Size} picture
 * @returns {Pin} the pixel that is nearest to it
 */
export function within({ x, y }, { width, height }) {
  const inside = (/** @type {number} */ at, /** @type {number} */ length) => Math.min(Math.max(Number.isFinite(at) ? Math.round(at) : 0, 0), length - 1);
  return { x: inside(x, width), y: inside(y, height) };
}

/**
 * The table of all pins: a line for each pin and stage, in the stage's unit (RFC 4180).
 * @param {{ pins: readonly Pin[], pinned: readonly Pinned[], side: number, name: string, size: Size, axes: Catalogue["judging"]["axes"] }} given
 */
export function csvOf({ pins, pinned, side, name, size, axes }) {
  const lines = [["frame", "pin", "x", "y", "side", "stage", "unit", "red", "green", "blue"]];
  pins.forEach((pin, i) => {
    const { x, y } = within(pin, size);
    for (const { stage, label, readings } of pinned[i] ?? []) {
      const unit = axes.find((axis) => axis.stage === stage)?.unit ?? "";
      lines.push([name, i + 1, x, y, side, label, unit, ...readings.map((value) => (Number.isFinite(value) ? value.toFixed(4) : ""))].map(String));
    }
  });
  return csv(lines);
}

/**
 * Lines of fields as RFC 4180 has them.
 * @param {readonly (readonly string[])[]} lines
 */
export const csv = (lines) => lines.map((line) => `${line.map(quoted).join(",")}\r\n`).join("");

/** @param {string} field */
function quoted(field) {
  // A spreadsheet would take a name that begins like this for a formula.
  const safe = /^[=+\-@\t\r]/.test(field) && !Number.isFinite(Number(field)) ? `'${field}` : field;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
