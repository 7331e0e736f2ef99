/** How long names and notes may be: in characters as a person counts them, the same everywhere. */

/** As the core reads them. */
export const NAME_MOST = 200;
export const NOTE_MOST = 2000;

/** @param {string} text */
export const lengthOf = (text) => [...text].length;

/**
 * @param {string} text
 * @param {number} most characters
 * @returns {string} the text itself, or its beginning
 */
export function shortened(text, most) {
  const letters = [...text];
  return letters.length <= most ? text : `${letters.slice(0, most - 1).join("").trimEnd()}\u2026`;
}

/**
 * A look whose name and note are as long as they may be.
 * @template {{ name?: unknown, note?: unknown }} T
 * @param {T} look
 * @returns {{ look: T, said: string }} said: what was shortened, as a sentence, or nothing
 */
export function fitted(look) {
  const parts = [];
  const fit = { ...look };
  for (const [key, most] of /** @type {const} */ ([["name", NAME_MOST], ["note", NOTE_MOST]])) {
    const text = look[key];
    if (typeof text !== "string" || lengthOf(text) <= most) continue;
    fit[key] = shortened(text, most);
    parts.push(`its ${key} was shortened to ${most} characters`);
  }
  const said = parts.join(" and ");
  return { look: fit, said: said ? `${said.charAt(0).toUpperCase()}${said.slice(1)}.` : "" };
}
