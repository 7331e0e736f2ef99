/** What a look is for, in a few words, and whether it is what somebody looks for. */

/** @import { Catalogue, LookData } from "../../../types.js" */

import { valueOf } from "../settings.js";
import { differences } from "./difference.js";

/**
 * A look that can be chosen.
 * @typedef {object} Choice
 * @property {string} id
 * @property {"bench" | "version" | "own" | "library"} kind bench: the one that is on now, with changes
 * @property {string} name
 * @property {string} what it is for, or where it comes from
 * @property {string} note
 * @property {LookData} look
 * @property {boolean} colour whether it has any
 * @property {string} [letter] of a version
 */

const WHAT_MOST = 48;

/**
 * The first sentence of a note without "For": `Dawn and dusk`.
 * @param {string} note
 * @returns {string}
 */
export function whatFor(note) {
  const first = (note.split(/[.:;](?:\s|$)/)[0] ?? "").trim();
  const words = first.replace(/^For (.)/u, (_, letter) => letter.toUpperCase());
  if (words.length <= WHAT_MOST) return words;
  const cut = words.slice(0, WHAT_MOST);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(" "), 1)).replace(/,$/, "")} \u2026`;
}

/** Stocks that see no colour. */
const GREY = ["pan", "ortho"];

/**
 * @param {Catalogue} catalogue
 * @param {LookData} look
 * @returns {boolean} whether its pictures have colour; a tint over grey is none
 */
export function hasColour(catalogue, look) {
  const step = catalogue.stages.find(({ id }) => id === "negative")?.steps.find(({ id }) => id === "stock");
  const balance = step?.controls.find(({ id }) => id === "balance");
  const value = balance ? String(valueOf(look.negative?.["stock"] ?? {}, balance)) : "";
  return !GREY.some((begins) => value.startsWith(begins));
}

/**
 * @param {{ name: string, note: string, what: string }} choice
 * @param {string} sought words, all of which must be there, whole or begun
 */
export function isSought({ name, note, what }, sought) {
  const text = ` ${[name, what, note].join(" ").toLowerCase()}`;
  return sought.toLowerCase().split(/[\s,]+/).filter(Boolean).every((word) => [" ", "-", "(", "\u201c"].some((edge) => text.includes(edge + word)));
}

/**
 * The look that another one was made from: the one of its name, else the nearest.
 * @param {Catalogue} catalogue
 * @param {LookData} look
 * @param {readonly Choice[]} others
 * @returns {{ choice: Choice, changes: number } | null}
 */
export function originOf(catalogue, look, others) {
  const found = others.map((choice) => ({ choice, changes: differences(catalogue, choice.look, look).length }));
  const same = found.find(({ choice, changes }) => changes === 0 && choice.look.name === look.name) ?? found.find(({ changes }) => changes === 0);
  const named = found.find(({ choice }) => look.name !== undefined && choice.look.name === look.name);
  return same ?? named ?? [...found].sort((a, b) => a.changes - b.changes)[0] ?? null;
}
