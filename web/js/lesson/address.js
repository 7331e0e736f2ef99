/**
 * The lesson in the address, `#lesson`, `#lesson=3`, and demonstrations, `#demonstration=2`: alone, or behind
 * a look, `#look=...&lesson=3`.
 */

/** @typedef {"lesson" | "demonstration"} Word */

const PAGE = /([#&])(lesson|demonstration)(?:=([^&]*))?(?=&|$)/;

/**
 * @param {string} hash of an address
 * @param {Word} word
 * @returns {number | null} which one it asks for, from 0; the first for one that there isn't; null if it is another address
 */
export function pageOf(hash, word) {
  const found = PAGE.exec(hash);
  if (found?.[2] !== word) return null;
  const at = Number(found[3] ?? 1) - 1;
  return Number.isInteger(at) && at >= 0 ? at : 0;
}

/**
 * @param {string} hash of an address
 * @param {Word} word
 * @param {number} at which one, from 0
 * @returns {string} the same address with this page
 */
export function withPage(hash, word, at) {
  const rest = withoutPage(hash);
  return `${rest}${rest === "#" ? "" : "&"}${word}=${at + 1}`;
}

/**
 * @param {string} link to a look
 * @param {string} hash of the address that it replaces
 * @returns {string} the link with that one's page, if it has one
 */
export function withPageOf(link, hash) {
  const [, , word, at = "1"] = PAGE.exec(hash) ?? [];
  return word ? `${link}&${word}=${at}` : link;
}

/**
 * @param {string} hash of an address
 * @returns {string} the same without a page, "#" where nothing is left
 */
export function withoutPage(hash) {
  return `#${hash.replace(PAGE, "").replace(/^[#&]*/, "")}`;
}
