/** A review: its looks and frames, without the pictures. */

/** @import { LookData, ReviewData, ReviewFrame, ReviewVersion } from "../../../types.js" */

import { digest, fingerprintOf } from "./fingerprint.js";
import { Misshapen, WORDS_MOST, hex, letter, list, moment, record, share, words } from "./shape.js";

export const LETTERS = /** @type {const} */ (["A", "B", "C"]);
/** Most frames of one review. */
export const FRAMES_MOST = 24;

/**
 * Names a review: it changes with anything in it.
 * @param {ReviewData} review
 * @returns {string} 64 hexadecimal digits
 */
export const reviewId = (review) => digest(review);

/**
 * @param {unknown} data
 * @returns {ReviewData} throws one sentence for the person
 */
export function readReview(data) {
  try {
    const it = record(data, "the review");
    if (typeof it["lookwrightReview"] === "number" && it["lookwrightReview"] > 1) throw new Error("This review was made by a newer Lookwright than this one; open it with that.");
    if (it["lookwrightReview"] !== 1) throw new Misshapen("it does not say that it is one");
    const model = it["model"];
    if (typeof model !== "number" || !Number.isInteger(model)) throw new Misshapen("the model's version is missing");
    return {
      lookwrightReview: 1,
      model,
      title: words(it["title"]),
      from: words(it["from"]),
      to: words(it["to"]),
      note: words(it["note"], WORDS_MOST),
      made: moment(it["made"]),
      mail: mailOf(it["mail"]),
      home: homeOf(it["home"]),
      versions: list(it["versions"], "versions", LETTERS.length).map(version),
      frames: list(it["frames"], "frames", FRAMES_MOST).map(frame),
    };
  } catch (error) {
    if (!(error instanceof Misshapen)) throw error;
    throw new Error(`This review is damaged: ${error.message}. Ask for it again.`);
  }
}

/** @param {unknown} it @returns {ReviewVersion} */
function version(it) {
  const { letter: sign, name, words: said, fingerprint, look } = record(it, "a version");
  return { letter: letter(sign), name: words(name), words: words(said), fingerprint: hex(fingerprint), look: /** @type {LookData} */ (/** @type {unknown} */ (record(look, "a look"))) };
}

/** @param {unknown} it @returns {ReviewFrame} */
function frame(it) {
  const { name, crop, url, settings } = record(it, "a frame");
  /** @type {ReviewFrame} */
  const read = { name: words(name) };
  if (crop !== undefined) {
    const { x, y, width, height } = record(crop, "a crop");
    read.crop = { x: share(x), y: share(y), width: share(width), height: share(height) };
  }
  // Pictures lie beside the page and nowhere else.
  if (typeof url === "string" && /^[\w][\w./ %-]*$/.test(url) && !url.includes("..")) read.url = url;
  if (settings !== undefined) read.settings = /** @type {ReviewFrame["settings"]} */ (record(settings, "a frame's settings"));
  return read;
}

/** An address that answers can be mailed to. @param {unknown} it */
function mailOf(it) {
  const mail = words(it);
  return /^[^\s@<>"?&:,;]+@[^\s@<>"?&:,;]+$/.test(mail) ? mail : "";
}

/** @param {unknown} it */
function homeOf(it) {
  const home = words(it, 1000);
  return /^https?:\/\/[^\s"<>]+$/.test(home) ? home : "";
}

/**
 * Versions whose look is not what their fingerprint says.
 * @param {ReviewData} review
 * @returns {ReviewVersion[]}
 */
export const altered = ({ versions, model }) => versions.filter(({ look, fingerprint }) => fingerprintOf(look, model) !== fingerprint);
