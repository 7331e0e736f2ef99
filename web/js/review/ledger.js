/** What went out for a yes, and what came back: kept in this browser, beside the sessions. */

/** @import { DBSchema, IDBPDatabase } from "idb" */
/** @import { AnswerData, ReviewData } from "../../types.js" */

import { openDB } from "idb";
import { reviewId } from "../pure/review/review.js";
import { digest } from "../pure/review/fingerprint.js";

/** @typedef {{ id: string, review: ReviewData }} SentRow */
/** @typedef {{ id: string, answer: AnswerData, edited: boolean, taken: string }} AnswerRow taken: when it came here, in UTC */
/** @typedef {{ sent: SentRow[], answers: AnswerRow[] }} History */
/** @typedef {ReturnType<typeof createLedger>} Ledger */

/**
 * @typedef {DBSchema & {
 *   sent: { key: string, value: SentRow },
 *   answers: { key: string, value: AnswerRow },
 * }} Schema
 */

/** @type {Promise<IDBPDatabase<Schema>> | undefined} */
let opened;

function database() {
  opened ??= openDB("lookwright.answers", 1, {
    upgrade(it) {
      it.createObjectStore("sent", { keyPath: "id" });
      it.createObjectStore("answers", { keyPath: "id" });
    },
  });
  return opened;
}

/**
 * @param {(it: IDBPDatabase<Schema>) => Promise<unknown>} write
 * @returns {Promise<boolean>} whether it is on the disk
 */
const written = (write) => database().then(write).then(() => true, () => false);

/**
 * What is kept, and what could not be.
 * @template {{ id: string }} Row
 * @param {Row[]} kept
 * @param {Row[]} here
 */
const together = (kept, here) => [...kept, ...here.filter(({ id }) => !kept.some((row) => row.id === id))];

export function createLedger() {
  /** What came since the page was opened: a browser may keep nothing. @type {History} */
  const here = { sent: [], answers: [] };

  return {
    /** @param {ReviewData} review @returns {Promise<boolean>} whether it is kept beyond this page */
    async putSent(review) {
      const row = { id: reviewId(review), review };
      if (!here.sent.some(({ id }) => id === row.id)) here.sent.push(row);
      return written((it) => it.put("sent", row));
    },

    /** @param {AnswerData} answer @param {boolean} edited @returns {Promise<{ fresh: boolean, kept: boolean }>} whether it is new here, and kept beyond this page */
    async putAnswer(answer, edited) {
      const row = { id: digest(answer), answer, edited, taken: new Date().toISOString() };
      const known = (await this.all()).answers.some(({ id }) => id === row.id);
      if (!known) here.answers.push(row);
      return { fresh: !known, kept: await written((it) => it.put("answers", row)) };
    },

    /** @returns {Promise<History>} the newest first */
    async all() {
      const kept = await database().then(async (it) => ({ sent: await it.getAll("sent"), answers: await it.getAll("answers") })).catch(() => ({ sent: [], answers: [] }));
      return {
        sent: together(kept.sent, here.sent).sort((a, b) => b.review.made.localeCompare(a.review.made)),
        answers: together(kept.answers, here.answers).sort((a, b) => b.answer.at.localeCompare(a.answer.at)),
      };
    },

    /** @param {string} id of an answer */
    async removeAnswer(id) {
      here.answers = here.answers.filter((row) => row.id !== id);
      await written((it) => it.delete("answers", id));
    },
  };
}
