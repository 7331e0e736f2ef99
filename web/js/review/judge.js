/** What an answer means for the look that is on the desk now, in words. */

/** @import { AnswerData, Catalogue, LookData, ReadLook } from "../../types.js" */
/** @import { SentRow } from "./ledger.js" */

import { differences, differencesSaid } from "../pure/looks/difference.js";
import { digest } from "../pure/review/fingerprint.js";

/** Most differences that are said one by one. */
const SAID = 12;

/**
 * @typedef {object} Verdict
 * @property {"same" | "changed" | "unknown"} state whether the look on the desk is the one that was answered
 * @property {string} words
 * @property {LookData | null} look that was answered, if it is known here
 */

/** Something to beware of. @typedef {string} Warning */

/**
 * The look that was answered, as it was sent.
 * @param {AnswerData} answer
 * @param {SentRow | undefined} sent the review, if it is known here
 * @returns {LookData | null}
 */
export function answeredLook({ version, versions }, sent) {
  const named = versions.find(({ letter }) => letter === version);
  return sent?.review.versions.find(({ letter, fingerprint }) => letter === version && fingerprint === named?.fingerprint)?.look ?? null;
}

/**
 * @param {{ answer: AnswerData, answered: ReadLook | null, now: ReadLook, catalogue: Catalogue }} given
 *   answered: the look that was answered, read by this release; now: the one on the desk
 * @returns {Verdict}
 */
export function verdictOf({ answer, answered, now, catalogue }) {
  const named = answer.versions.find(({ letter }) => letter === answer.version);
  const look = answered?.look ?? null;
  if (named?.fingerprint === now.fingerprint) return { state: "same", words: "The look on the desk is the very one that was answered.", look };
  if (!answered) return { state: "unknown", words: "The look on the desk is another one, and this browser does not know the review that was answered, so it can\u2019t say what differs.", look };
  if (answered.fingerprint === now.fingerprint) return { state: "changed", words: "The settings are the same, but this Lookwright is newer than the one that was answered with, so the picture may differ.", look };
  const all = differences(catalogue, answered.look, now.look);
  const more = all.length > SAID ? `, and ${all.length - SAID} more` : "";
  return { state: "changed", words: `Changed since: ${differencesSaid(all.slice(0, SAID))}${more}.`, look };
}

/**
 * @param {{ answer: AnswerData, edited: boolean, sent: SentRow | undefined, signed: boolean }} given
 *   edited: by hand; sent: the review that it answers, if it is known here; signed: whether its signature is that of its key
 * @returns {Warning[]}
 */
export function warningsOf({ answer, edited, sent, signed }) {
  const warnings = [];
  if (edited) warnings.push("This file was changed after it was made: what it says may not be what was answered. Ask for it again.");
  if (answer.signature && !signed) warnings.push("Its signature does not fit what it says.");
  const strange = sent && answer.versions.some(({ letter, fingerprint }) => !sent.review.versions.some((it) => it.letter === letter && it.fingerprint === fingerprint));
  if (strange) warnings.push("It names a look that was not in the review.");
  if (sent && sent.review.frames.length !== answer.frames.length) warnings.push("It speaks of other frames than the review.");
  return warnings;
}

/** A key in a few letters. @param {AnswerData} answer */
export const keyName = ({ signature }) => (signature ? digest({ x: signature.x, y: signature.y }).slice(0, 8) : "");

/**
 * @param {AnswerData} answer
 * @returns {string} who said what, in one line
 */
export function answerSaid({ by, say, version, versions, frames }) {
  const name = versions.find(({ letter }) => letter === version)?.name;
  const which = `${version}${name ? ` (${name})` : ""}`;
  if (say === "yes") {
    const open = frames.filter((frame) => frame.say === "").length;
    return `${by} says yes to ${which}${open > 0 ? `, with ${open} of ${frames.length} frames not answered` : ""}`;
  }
  const pins = frames.reduce((sum, frame) => sum + frame.pins.length, 0);
  return `${by} would like changes to ${which}${pins > 0 ? `: ${pins === 1 ? "one note" : `${pins} notes`} on the picture` : ""}`;
}
