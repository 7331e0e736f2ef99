/** Versions: states of the look that were kept for comparing, each under a letter. */

/** @import { Catalogue, LookData } from "../../../types.js" */

import { isRecord } from "../kept/check.js";
import { differenceSaid, differences } from "./difference.js";

export const LETTERS = /** @type {const} */ (["A", "B", "C", "D", "E", "F", "G", "H"]);

/** @typedef {{ letter: string, name: string, at: number, look: LookData }} Version at: ms since 1970 */

/** How many differences make a name. */
const NAMED = 2;

/**
 * @param {unknown} raw as it was kept
 * @returns {Version[]} in the order of their letters; what is no version is left out
 */
export function readVersions(raw) {
  const rows = isRecord(raw) && raw["v"] === 1 ? raw["kept"] : null;
  if (!Array.isArray(rows)) return [];
  return LETTERS.flatMap((letter) => {
    const found = rows.find((/** @type {unknown} */ it) => isRecord(it) && it["letter"] === letter && isRecord(it["look"]));
    return found ? [{ letter, name: String(found.name ?? ""), at: Number(found.at) || 0, look: found.look }] : [];
  });
}

/** @param {readonly Version[]} kept @returns {unknown} as {@link readVersions} takes it */
export const written = (kept) => ({ v: 1, kept });

/**
 * @param {Catalogue} catalogue
 * @param {readonly Version[]} kept
 * @param {LookData} look
 * @returns {Version | null} the one that the look is already
 */
export const sameVersion = (catalogue, kept, look) => kept.find((version) => differences(catalogue, version.look, look).length === 0) ?? null;

/**
 * Keeps a state of the look under the next free letter.
 * @param {Catalogue} catalogue
 * @param {readonly Version[]} kept
 * @param {LookData} look
 * @param {number} at ms since 1970
 * @returns {{ kept: Version[], version: Version } | null} null if no letter is free
 */
export function withVersion(catalogue, kept, look, at) {
  const letter = LETTERS.find((it) => kept.every((version) => version.letter !== it));
  if (!letter) return null;
  const newest = [...kept].sort((a, b) => b.at - a.at)[0];
  const version = { letter, name: nameOf(catalogue, newest, look), at, look };
  return { kept: [...kept, version].sort((a, b) => (a.letter < b.letter ? -1 : 1)), version };
}

/**
 * What was done since the version before, else the look's name.
 * @param {Catalogue} catalogue
 * @param {Version | undefined} before
 * @param {LookData} look
 */
function nameOf(catalogue, before, look) {
  const found = before ? differences(catalogue, before.look, look).filter(({ idle }) => !idle) : [];
  if (!before || found.length === 0 || found.length > 8 || before.look.name !== look.name) return look.name ?? "Untitled look";
  const words = found.slice(0, NAMED).map((difference) => (difference.control === "on" ? differenceSaid(difference) : `${difference.label} ${difference.to}`));
  const more = found.length > NAMED ? `, ${found.length - NAMED} more` : "";
  const text = words.join(", ") + more;
  return text.charAt(0).toUpperCase() + text.slice(1);
}
