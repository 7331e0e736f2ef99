/** What went out for a yes, and what came back: kept in this browser, beside the sessions. */

/** @import { DBSchema, IDBPDatabase } from "idb" */
/** @import { AnswerData, ReviewData } from "../../types.js" */

import { openDB } from "idb";
import { isRecord } from "../pure/kept/check.js";
import { readReview, reviewId } from "../pure/review/review.js";
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

export function createLedger() {
  /** What a browser without a store has for as long as the page is open. @type {History} */
  const here = { sent: [], answers: [] };

  return {
    /** @param {ReviewData} review */
    async putSent(review) {
      const row = { id: reviewId(review), review };
      if (!here.sent.some(({ id }) => id === row.id)) here.sent.push(row);
      await database().then((it) => it.put("sent", row), () => {});
    },

    /** @param {AnswerData} answer @param {boolean} edited @returns {Promise<boolean>} whether it is new here */
    async putAnswer(answer, edited) {
      const row = { id: digest(answer), answer, edited, taken: new Date().toISOString() };
      const known = (await this.all()).answers.some(({ id }) => id === row.id);
      if (known) return false;
      here.answers.push(row);
      await database().then((it) => it.put("answers", row), () => {});
      return true;
    },

    /** @returns {Promise<History>} the newest first */
    async all() {
      const kept = await database().then(async (it) => ({ sent: await it.getAll("sent"), answers: await it.getAll("answers") }), () => here);
      return {
        sent: kept.sent.sort((a, b) => b.review.made.localeCompare(a.review.made)),
        answers: kept.answers.sort((a, b) => b.answer.at.localeCompare(a.answer.at)),
      };
    },

    /** @param {string} id of an answer */
    async removeAnswer(id) {
      here.answers = here.answers.filter((row) => row.id !== id);
      await database().then((it) => it.delete("answers", id), () => {});
    },

    /**
     * Takes in what {@link all} gave elsewhere.
     * @param {unknown} history
     */
    async takeIn(history) {
      if (!isRecord(history) || !Array.isArray(history["sent"]) || !Array.isArray(history["answers"])) return;
      for (const row of history["sent"]) await this.putSent(readReview(isRecord(row) ? row["review"] : null));
      for (const row of history["answers"]) if (isRecord(row) && isRecord(row["answer"])) await this.putAnswer(/** @type {AnswerData} */ (/** @type {unknown} */ (row["answer"])), row["edited"] === true);
    },
  };
}
