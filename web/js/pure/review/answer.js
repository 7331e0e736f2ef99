/** A client's answer: as a file, as the end of an address, as letters in a message. */

/** @import { AnswerData, AnswerSignature, FrameAnswer, ReviewPin, Say } from "../../../types.js" */

import { canonical, digest } from "./fingerprint.js";
import { ANSWER_HASH } from "./marks.js";
import { Damaged, fromAddress, fromLetters, toAddress, toLetters } from "./packed.js";
import { FRAMES_MOST } from "./review.js";
import { Misshapen, WORDS_MOST, hex, letter, list, moment, record, share, words } from "./shape.js";

const PINS_MOST = 200;
/** In messages: the letters stand between these. */
const BEGIN = "LOOKWRIGHT-ANSWER:";
const END = ".";

const CUT = "The answer is damaged or cut short on its way; ask for it as a file.";

/** What a signature is made of. @param {AnswerData} answer */
export function signedText({ signature: _, ...answer }) {
  return canonical(answer);
}

/**
 * @param {AnswerData} answer
 * @returns {string} JSON with a digest over all the rest
 */
export function toFile(answer) {
  return `${JSON.stringify({ ...answer, digest: digest(answer) }, null, 2)}\n`;
}

/** @param {AnswerData} answer @returns {string} to stand behind the page's address */
export const toHash = (answer) => ANSWER_HASH + toAddress(canonical(answer));

/** @param {AnswerData} answer @returns {string} for a message */
export const toMessage = (answer) => `${BEGIN}\n${toLetters(canonical(answer))} ${END}`;

/** @typedef {{ answer: AnswerData, edited: boolean }} ReceivedAnswer edited: by hand, after it was made */

/**
 * @param {string} text a file, an address, or a message with whatever is around the answer
 * @returns {ReceivedAnswer} throws one sentence for the person
 */
export function readAnswer(text) {
  try {
    const hash = text.indexOf(ANSWER_HASH);
    if (hash >= 0) return { answer: checked(JSON.parse(fromAddress(text.slice(hash + ANSWER_HASH.length)))), edited: false };
    const letters = /lookwright-answer\s*:([^.]*)(\.?)/i.exec(text);
    if (letters) return { answer: checked(JSON.parse(fromLetters(letters[1] ?? ""))), edited: false };
    return fromFile(text);
  } catch (error) {
    if (error instanceof Damaged) throw new Error(CUT);
    if (error instanceof Misshapen) throw new Error(`The answer can\u2019t be read: ${error.message}. Ask for it again.`);
    if (error instanceof SyntaxError) throw new Error("There is no answer in it: paste the whole message, or drop the file.");
    throw error;
  }
}

/** @param {string} text @returns {ReceivedAnswer} */
function fromFile(text) {
  const data = record(JSON.parse(text), "the answer");
  const { digest: said, ...rest } = data;
  const answer = checked(rest);
  return { answer, edited: said !== digest(rest) };
}

/** @param {unknown} data @returns {AnswerData} */
function checked(data) {
  const it = record(data, "the answer");
  const number = it["lookwrightAnswer"];
  if (typeof number === "number" && number > 1) throw new Error("This answer was made by a newer Lookwright than this one; open it with that.");
  if (number !== 1) throw new Misshapen("it does not say that it is one");
  const versions = list(it["versions"], "versions", 8).map((version) => {
    const { letter: sign, name, fingerprint } = record(version, "a version");
    return { letter: letter(sign), name: words(name), fingerprint: hex(fingerprint) };
  });
  const known = (/** @type {unknown} */ sign) => {
    if (!versions.some((version) => version.letter === letter(sign))) throw new Misshapen(`it speaks of a version ${sign} that it does not name`);
    return letter(sign);
  };
  /** @type {AnswerData} */
  const answer = {
    lookwrightAnswer: 1,
    review: hex(it["review"]),
    title: words(it["title"]),
    by: words(it["by"]),
    at: moment(it["at"]),
    say: sayOf(it["say"]),
    version: known(it["version"]),
    words: words(it["words"], WORDS_MOST),
    versions,
    frames: list(it["frames"], "frames", FRAMES_MOST).map((frame) => frameOf(frame, known)),
  };
  if (it["signature"] !== undefined) answer.signature = signatureOf(it["signature"]);
  return answer;
}

/** @param {unknown} it @returns {Say} */
function sayOf(it) {
  if (it !== "yes" && it !== "change") throw new Misshapen("it says neither yes nor what to change");
  return it;
}

/**
 * @param {unknown} it
 * @param {(sign: unknown) => string} known
 * @returns {FrameAnswer}
 */
function frameOf(it, known) {
  const { name, say, version, words: said, pins } = record(it, "a frame");
  return {
    name: words(name),
    say: say === "" ? "" : sayOf(say),
    version: known(version),
    words: words(said, WORDS_MOST),
    pins: list(pins, "pins", PINS_MOST).map((pin) => pinOf(pin, known)),
  };
}

/**
 * @param {unknown} it
 * @param {(sign: unknown) => string} known
 * @returns {ReviewPin}
 */
function pinOf(it, known) {
  const { x, y, version, words: said } = record(it, "a pin");
  return { x: share(x), y: share(y), version: known(version), words: words(said, WORDS_MOST) };
}

/** @param {unknown} it @returns {AnswerSignature} */
function signatureOf(it) {
  const { kind, x, y, value } = record(it, "the signature");
  if (kind !== "ES256") throw new Misshapen("its signature is of a kind that this page does not know");
  const part = (/** @type {unknown} */ text) => {
    if (typeof text !== "string" || !/^[\w-]{1,200}$/.test(text)) throw new Misshapen("its signature is damaged");
    return text;
  };
  return { kind, x: part(x), y: part(y), value: part(value) };
}
