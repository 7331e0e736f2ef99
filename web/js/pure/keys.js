/** Keys as they are written in the list of actions ("W", "Ctrl+Shift+Z", "/"), and as events bring them. */

/** @typedef {{ key: string, ctrl: boolean, shift: boolean, alt: boolean }} Chord */
/** @typedef {{ key: string, ctrlKey: boolean, metaKey: boolean, shiftKey: boolean, altKey: boolean }} Press */

/** How a key is named that has no sign of its own. */
const NAMED = /** @type {Record<string, string>} */ ({ Space: " " });

/**
 * @param {string} written modifiers and a key, joined by "+"
 * @returns {Chord}
 */
export function chordOf(written) {
  const parts = written === "+" ? ["+"] : written.split("+");
  const key = parts.at(-1) ?? "";
  const has = (/** @type {string} */ name) => parts.slice(0, -1).includes(name);
  return { key: (NAMED[key] ?? key).toLowerCase(), ctrl: has("Ctrl"), shift: has("Shift"), alt: has("Alt") };
}

/**
 * Whether a press is that chord. Signs that some keyboards have on the shifted level are taken with
 * Shift and without; the command key of a Mac counts as Ctrl.
 * @param {Chord} chord
 * @param {Press} press
 */
export function matches({ key, ctrl, shift, alt }, press) {
  if (press.key.toLowerCase() !== key) return false;
  if ((press.ctrlKey || press.metaKey) !== ctrl || press.altKey !== alt) return false;
  const levels = key.length > 1 || key === " " || key.toLowerCase() !== key.toUpperCase();
  return levels || ctrl ? press.shiftKey === shift : true;
}

/**
 * Whether a chord is one character without Ctrl or Alt: speech input and stray fingers press those
 * by mistake, so they can be switched off (WCAG 2.2, 2.1.4).
 * @param {Chord} chord
 */
export function isSingle({ key, ctrl, alt }) {
  return key.length === 1 && !ctrl && !alt;
}
