/**
 * What was not written yet when the page went: the database answers later than a page may live, so
 * this is put down at once, in the one store that takes things at once.
 */

/** @import { Change } from "../pure/kept/changes.js" */
/** @import { SessionRecord } from "../pure/kept/record.js" */

import { isRecord } from "../pure/kept/check.js";

/** `from`: the number of the first of the changes. @typedef {{ journal: 1, record: SessionRecord, from: number, changes: Change[] }} Journal */

const PREFIX = "lookwright.journal.";

/** @param {Omit<Journal, "journal">} content */
export function writeJournal(content) {
  try {
    localStorage.setItem(PREFIX + content.record.id, JSON.stringify({ journal: 1, ...content }));
  } catch {
    // It is full or refused: the database may still make it.
  }
}

/** @param {string} session */
export function dropJournal(session) {
  try {
    localStorage.removeItem(PREFIX + session);
  } catch {
    // Then there was none.
  }
}

/**
 * @param {string} session
 * @returns {Journal | null}
 */
export function readJournal(session) {
  try {
    const journal = JSON.parse(localStorage.getItem(PREFIX + session) ?? "null");
    return isRecord(journal) && journal["journal"] === 1 && isRecord(journal["record"]) && Array.isArray(journal["changes"]) ? /** @type {Journal} */ (/** @type {unknown} */ (journal)) : null;
  } catch {
    return null;
  }
}
