/** The browser's database of kept work. DEVELOPERS.md has the format on one page. */

/** @import { DBSchema, IDBPDatabase } from "idb" */
/** @import { LookData } from "../../types.js" */
/** @import { Change } from "../pure/kept/changes.js" */
/** @import { SessionRecord } from "../pure/kept/record.js" */

import { openDB } from "idb";

const NAME = "lookwright";
const VERSION = 3;
/** Stores of the first version: one slot for the session, and bytes by frame. */
export const FIRST = { slot: "session", bytes: "bytes" };

/**
 * @typedef {{ session: string, number: number, change: Change }} StepRow
 * @typedef {{ id: string, why: string, at: number, copy?: { record: unknown, changes: unknown[] } }} Aside
 * @typedef {{ id: string, v: 1, name: string, note: string, look: LookData, order: number, made: number, changed: number,
 *   ancestors: string[], more?: Record<string, unknown> }} OwnLook
 * @typedef {DBSchema & {
 *   sessions: { key: string, value: SessionRecord },
 *   steps: { key: [string, number], value: StepRow },
 *   originals: { key: [string, string], value: Blob },
 *   asides: { key: string, value: Aside },
 *   looks: { key: string, value: OwnLook },
 * }} Schema
 * @typedef {IDBPDatabase<Schema>} Database
 */

/** Said when a newer release has taken the database over. */
export const NEWER = "A newer release of Lookwright keeps the work in this browser; reload this tab to go on keeping work.";

/**
 * @param {{ onblocking: () => void }} wiring onblocking: a newer release takes it over, and this page can't use it any more
 * @returns {Promise<Database>} rejects where the browser has none to give, such as in some private windows
 */
export function openDatabase({ onblocking }) {
  return openDB(NAME, VERSION, {
    upgrade(database, from) {
      if (from < 2) {
        database.createObjectStore("sessions", { keyPath: "id" });
        database.createObjectStore("steps", { keyPath: ["session", "number"] });
        database.createObjectStore("originals");
        database.createObjectStore("asides", { keyPath: "id" });
      }
      if (from < 3) database.createObjectStore("looks", { keyPath: "id" });
    },
    blocking(_from, to, event) {
      /** @type {IDBDatabase} */ (event.target).close();
      // Without a version the database is being deleted, which whoever does it knows.
      if (to !== null) onblocking();
    },
  });
}

/** @param {string} session every step of it */
export const stepsOf = (session) => IDBKeyRange.bound([session, -Infinity], [session, Infinity]);
