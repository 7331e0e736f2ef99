/** The lesson in the address: `#lesson`, `#lesson=3`; demonstrations: `#demonstration=2`. */

/**
 * @param {string} hash of an address
 * @param {"lesson" | "demonstration"} word
 * @returns {number | null} which one it asks for, from 0; the first for one that there isn't; null if it is another address
 */
export function pageOf(hash, word) {
  const found = /^#([a-z]+)(?:=(.*))?$/.exec(hash);
  if (found?.[1] !== word) return null;
  const at = Number(found[2] ?? 1) - 1;
  return Number.isInteger(at) && at >= 0 ? at : 0;
}
