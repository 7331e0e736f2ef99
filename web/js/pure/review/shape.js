/** What comes from elsewhere, read key by key: text stays text, and nothing is longer than it may be. */

import { isRecord } from "../kept/check.js";
import { shortened } from "../kept/limits.js";

/** Longest line and longest note, in characters. */
export const LINE_MOST = 200;
export const WORDS_MOST = 2000;

/** Not what it should be. */
export class Misshapen extends Error {}

/**
 * @param {unknown} it
 * @param {string} what
 * @returns {Record<string, unknown>}
 */
export function record(it, what) {
  if (!isRecord(it)) throw new Misshapen(`${what} is missing`);
  return it;
}

/**
 * @param {unknown} it
 * @param {string} what
 * @param {number} most
 * @returns {unknown[]}
 */
export function list(it, what, most) {
  if (!Array.isArray(it)) throw new Misshapen(`the list of ${what} is missing`);
  if (it.length > most) throw new Misshapen(`there are ${it.length} ${what}, and at most ${most} are allowed`);
  return it;
}

/**
 * Text without what would not be seen: controls, and marks that turn the direction of writing.
 * @param {unknown} it
 * @param {number} [most] characters
 */
export function words(it, most = LINE_MOST) {
  if (it === undefined) return "";
  if (typeof it !== "string") throw new Misshapen("something that should be text is not");
  return shortened(it.replace(/[\u0000-\u0009\u000b-\u001f\u007f\u202a-\u202e\u2066-\u2069]/g, " ").trim(), most);
}

/** @param {unknown} it */
export function letter(it) {
  if (typeof it !== "string" || !/^[A-H]$/.test(it)) throw new Misshapen("a version has no letter");
  return it;
}

/** @param {unknown} it */
export function hex(it) {
  if (typeof it !== "string" || !/^[0-9a-f]{64}$/.test(it)) throw new Misshapen("a fingerprint is not one");
  return it;
}

/** @param {unknown} it */
export function moment(it) {
  if (typeof it !== "string" || !/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/.test(it) || Number.isNaN(Date.parse(it))) throw new Misshapen("its time is not one");
  return it;
}

/**
 * @param {unknown} it
 * @returns {number} 0 ... 1
 */
export function share(it) {
  if (typeof it !== "number" || !(it >= 0 && it <= 1)) throw new Misshapen("a place lies outside the picture");
  return it;
}
