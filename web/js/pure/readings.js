/** Readings of instruments in words and figures. */

/** @import { Scopes, StageAxis } from "../../types.js" */

const MINUS = "\u2212";
/** A share of the picture that is not worth a word. */
const NOTHING = 0.0005;

/**
 * A number in a stage's own unit, without the unit; light has its sign.
 * @param {number} value
 * @param {Pick<StageAxis, "unit" | "digits">} axis
 */
export function reading(value, { unit, digits }) {
  if (!Number.isFinite(value)) return value < 0 ? `${MINUS}\u221e` : "\u221e";
  const figures = Math.abs(value).toFixed(digits);
  if (Number(figures) === 0) return figures;
  if (value < 0) return MINUS + figures;
  return unit === "stops" ? `+${figures}` : figures;
}

/**
 * What stands at a mark of an axis.
 * @param {number} says
 * @param {Pick<StageAxis, "unit">} axis
 */
export function markWords(says, { unit }) {
  if (unit === "stops" && says === 0) return "grey";
  return reading(says, { unit, digits: Number.isInteger(says) ? 0 : 1 });
}

/**
 * How far a picture's numbers reach, in a sentence.
 * @param {Scopes["reading"]} found
 * @param {StageAxis} axis
 */
export function reachWords({ darkest, brightest, below, above }, axis) {
  const reach = `${reading(darkest, axis)} to ${reading(brightest, axis)} ${axis.unit}.`;
  const ends = [
    { share: below, where: "at the bottom" },
    { share: above, where: "at the top" },
  ].filter(({ share }) => share > NOTHING);
  if (ends.length === 0) return `${reach} Nothing at either end.`;
  return `${reach} ${ends.map(({ share, where }) => `${percent(share)} of the picture ${where}`).join(", ")}.`;
}

/** @param {number} share of 1 */
export function percent(share) {
  const figure = share * 100;
  return `${figure < 10 ? figure.toFixed(1) : Math.round(figure)} %`;
}
