/** The licence of a look: the last line of its note, so that it goes wherever the look does. */

const BEGINS = "Licence: ";
const LINE = /(?:^|\n)Licence: ([^\n]+)$/;

/**
 * @param {string} note as a look has it
 * @returns {{ note: string, licence: string }} apart; empty if there is none
 */
export function apart(note) {
  const found = LINE.exec(note);
  return found ? { note: note.slice(0, found.index), licence: found[1] ?? "" } : { note, licence: "" };
}

/**
 * @param {{ note: string, licence: string }} words
 * @returns {string} a look's note
 */
export function together({ note, licence }) {
  const named = licence.trim();
  return named === "" ? note : `${note}${note === "" ? "" : "\n"}${BEGINS}${named}`;
}
