/** What a still asks of a look, in words. */

/** @import { Catalogue, Matched } from "../../../types.js" */

import { format, unitSign } from "../scale.js";
import { findStage, findStep } from "../settings.js";
import { spoken } from "../summary.js";

/** From these shares on it is sure, or fairly so. */
const SURE = /** @type {const} */ ([0.85, 0.5]);

/**
 * @param {Catalogue} catalogue
 * @param {Matched["moves"][number]} moved
 * @returns {{ name: string, change: string, error: string }}
 */
export function moveSaid(catalogue, { stage, step, control, values: [from, to], error }) {
  const entry = findStep(findStage(catalogue, stage), step);
  const found = entry.controls.find(({ id }) => id === control);
  if (!found || found.kind !== "number") throw new Error(`no number ${stage}.${step}.${control}`);
  const name = found.label === entry.label ? found.label : `${entry.label}: ${found.label.toLowerCase()}`;
  const unit = unitSign(found.unit);
  return {
    name,
    change: `${format(found, from)} to ${spoken(found, to)}`,
    error: error === null || error < found.step / 2 ? "" : `\u00b1 ${sizeOf(error, found.step)}${unit === "share" || unit === "" ? "" : ` ${unit}`}`,
  };
}

/**
 * As many places as the control steps by.
 * @param {number} error
 * @param {number} step
 */
function sizeOf(error, step) {
  return error.toFixed(Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)));
}

/**
 * @param {Matched} found
 * @returns {string[]} how near it comes and how sure that is
 */
export function matchSaid({ moves, samePicture, distance: [before, after], sure }) {
  if (moves.length === 0) return ["No move would bring this frame noticeably nearer to the still."];
  const near = samePicture
    ? `The still shows the same picture, so both were compared place by place: ${before.toFixed(1)} dE2000 apart on average, ${after.toFixed(1)} with these moves.`
    : `The still shows something else, so their tones and colours were compared as a whole: ${before.toFixed(0)} apart now, ${after.toFixed(0)} with these moves.`;
  const word = sure > SURE[0] ? "Sure" : sure > SURE[1] ? "Fairly sure" : "A guess";
  return [near, `${word}: ${Math.round(100 * sure)} % of this comes from the two pictures, the rest from what looks usually do.`];
}
