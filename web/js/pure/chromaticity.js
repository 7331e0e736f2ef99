/** Chromaticities in words and figures. */

/** @import { Chromaticity, Diagram, StageId } from "../../types.js" */

import { percent } from "./readings.js";

/**
 * A place of the diagram in both planes (CIE 15: `x = 9u' / (6u' - 16v' + 12)`, `y = 4v' / (6u' - 16v' + 12)`).
 * @param {number} u
 * @param {number} v
 * @returns {Chromaticity}
 */
export function placeAt(u, v) {
  const under = 6 * u - 16 * v + 12;
  return { u, v, x: (9 * u) / under, y: (4 * v) / under };
}

/** @param {Chromaticity} place */
export function placeWords({ u, v, x, y }) {
  const figure = (/** @type {number} */ value) => value.toFixed(4).replace("-", "\u2212");
  return `u\u2032 ${figure(u)}  v\u2032 ${figure(v)}\nx ${figure(x)}  y ${figure(y)}`;
}

/**
 * How much of a picture a screen can't show.
 * @param {number[]} shares outside of each gamut, then too dark
 * @param {Diagram["gamuts"]} gamuts
 */
export function sharesWords(shares, gamuts) {
  const outside = gamuts.map(({ label }, i) => `${percent(shares[i] ?? 0)} outside ${label}`);
  return `${outside.join(", ")}; ${percent(shares[gamuts.length] ?? 0)} too dark to have a colour.`;
}

/** Why what leaves a stage has no chromaticity. */
const WHY_NOT = /** @type {Partial<Record<StageId, string>>} */ ({
  negative: "A negative has densities of three dyes: they only become a colour in some light. Choose another stage above.",
  scan: "A scan\u2019s codes stand for densities, and not for light. Choose another stage above.",
});

/**
 * @param {StageId} stage
 * @returns {string} nothing where there is one
 */
export const whyNot = (stage) => WHY_NOT[stage] ?? "";
