/** How reviews and answers are known, before what reads them is loaded. */

/** In addresses. */
export const REVIEW_HASH = "#review=";
export const ANSWER_HASH = "#answer=";

/**
 * Whether a text might hold an answer: a file, an address or a message.
 * @param {string} text
 */
export function holdsAnswer(text) {
  return text.includes(ANSWER_HASH) || /lookwright-answer\s*:/i.test(text) || /^\s*\{[^]*"lookwrightAnswer"/.test(text);
}
