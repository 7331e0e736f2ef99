/** One's own looks as a list: where a new one stands, how they change places, what their files are called. */

/** @import { LookData } from "../../../types.js" */

import { namesBy } from "../batch/names.js";

/**
 * As the store has it.
 * @typedef {{ id: string, v: 1, name: string, note: string, look: LookData, order: number, made: number, changed: number,
 *   ancestors: string[], more?: Record<string, unknown> }} OwnLook
 */

/**
 * @param {readonly OwnLook[]} looks in their order
 * @param {{ id: string, look: LookData, name: string, now: number, ancestors: string[], more?: Record<string, unknown> }} added
 * @returns {OwnLook} that stands last
 */
export function added(looks, { id, look, name, now, ancestors, more }) {
  const order = Math.max(0, ...looks.map((it) => it.order)) + 1;
  return { id, v: 1, name, note: look.note ?? "", look: { ...look, name }, order, made: now, changed: now, ancestors, ...(more ? { more } : {}) };
}

/**
 * @param {readonly OwnLook[]} looks in their order
 * @param {string} id
 * @param {-1 | 1} by
 * @returns {OwnLook[]} those that have another place now; none at the ends
 */
export function moved(looks, id, by) {
  const at = looks.findIndex((look) => look.id === id);
  const [own, other] = [looks[at], looks[at + by]];
  if (!own || !other) return [];
  const next = [...looks];
  next[at] = other;
  next[at + by] = own;
  return next.flatMap((look, order) => (look.order === order ? [] : [{ ...look, order }]));
}

/**
 * @param {OwnLook} look
 * @param {{ name?: string, note?: string }} words
 * @param {number} now
 * @returns {OwnLook} with them, in its file as well
 */
export function renamed(look, words, now) {
  const next = { ...look, ...words, changed: now };
  const { name, note } = next;
  const { note: _, ...bare } = look.look;
  return { ...next, look: { ...bare, name, ...(note ? { note } : {}) } };
}

/** @param {readonly OwnLook[]} looks @returns {string[]} a file's name for each, no two the same */
export function fileNames(looks) {
  // A look's name stands where a frame's does; what looks like an ending there would be cut off.
  return namesBy("{frame}", looks.map(({ name }) => `${name}.look`), "").map((name) => `${name}.look.json`);
}

/**
 * What a file in a zip is called, if it may be a look; what some systems put beside each file is none.
 * @param {string} path
 * @returns {string | null} without its folders
 */
export function lookFileName(path) {
  const name = path.slice(path.lastIndexOf("/") + 1);
  return /\.json$/i.test(name) && !name.startsWith("._") && !/(^|\/)__MACOSX\//.test(path) ? name : null;
}
