/** The lesson in the address: `#lesson`, `#lesson=3`. */

/**
 * @param {string} hash of an address
 * @returns {number | null} the chapter that it asks for, from 0; the first for one that there isn't
 */
export function chapterOf(hash) {
  const found = /^#lesson(?:=(.*))?$/.exec(hash);
  if (!found) return null;
  const at = Number(found[1] ?? 1) - 1;
  return Number.isInteger(at) && at >= 0 ? at : 0;
}
