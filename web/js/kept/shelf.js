/** All work that this browser keeps: sessions by id, read, listed, taken in and thrown away. */

/** @import { Aside, Database } from "./database.js" */
/** @import { Kept, SessionRecord } from "../pure/kept/record.js" */
/** @import { Originals } from "./originals.js" */

import { hasWork, readRecord } from "../pure/kept/record.js";
import { FIRST, stepsOf } from "./database.js";
import { dropJournal, readJournal } from "./journal.js";
import { openSessions } from "./ownership.js";

/** @typedef {ReturnType<typeof createShelf>} Shelf */
/** @typedef {{ id: string, name: string, frames: number, bytes: number, changed: number, open: boolean, why?: string }} Listing */

/** Sessions without any work are let go after this, in ms. */
const EMPTY_AGE = 24 * 3600 * 1000;

/**
 * @param {Database} database
 * @param {Originals} originals
 */
export function createShelf(database, originals) {
  /**
   * A session as it was left, of whatever version.
   * @param {string} id
   * @returns {Promise<{ record: unknown, changes: unknown[] }>}
   */
  async function raw(id) {
    const transaction = database.transaction(["sessions", "steps"]);
    const [record, rows] = await Promise.all([transaction.objectStore("sessions").get(id), transaction.objectStore("steps").getAll(stepsOf(id))]);
    const journal = readJournal(id);
    if (!journal || journal.record.revision <= (record?.revision ?? 0)) {
      return { record, changes: rows.map(({ change }) => change) };
    }
    const before = rows.filter(({ number }) => number >= journal.record.first && number < journal.from);
    return { record: journal.record, changes: [...before.map(({ change }) => change), ...journal.changes] };
  }

  return {
    raw,

    /** @param {string} id @returns {Promise<Kept>} rejects with why it can't be read */
    async read(id) {
      const { record, changes } = await raw(id);
      return readRecord(record, changes);
    },

    /** @returns {Promise<string[]>} sessions that may be gone on with, the newest first */
    async candidates() {
      const asides = new Set(await database.getAllKeys("asides"));
      const records = await database.getAll("sessions");
      records.sort((a, b) => (b.changed ?? 0) - (a.changed ?? 0));
      return records.map(({ id }) => id).filter((id) => !asides.has(id));
    },

    /** @returns {Promise<Listing[]>} the newest first */
    async list() {
      const [records, asides, isOpen] = await Promise.all([database.getAll("sessions"), database.getAll("asides"), openSessions()]);
      /** @param {string} id */
      const why = (id) => asides.find((aside) => aside.id === id && !aside.copy)?.why;
      return records
        .filter((record) => why(record.id) !== undefined || hasWork(record))
        .map((record) => listing(record, isOpen(record.id), why(record.id)))
        .sort((a, b) => b.changed - a.changed);
    },

    /** @returns {Promise<Aside[]>} copies of what could not be read */
    copies: async () => (await database.getAll("asides")).filter(({ copy }) => copy),

    /**
     * Puts a session that can't be read aside, so that it is not tried again.
     * @param {Aside} aside
     */
    putAside: (aside) => database.put("asides", aside),

    /** @param {Kept} kept @param {string[]} [copies] asides that are then done with */
    async put({ record, changes }, copies = []) {
      const transaction = database.transaction(["sessions", "steps", "asides"], "readwrite", { durability: "strict" });
      const steps = transaction.objectStore("steps");
      transaction.objectStore("sessions").put(record);
      steps.delete(stepsOf(record.id));
      changes.forEach((change, i) => steps.put({ session: record.id, number: record.first + i, change }));
      for (const id of copies) transaction.objectStore("asides").delete(id);
      await transaction.done;
      dropJournal(record.id);
    },

    /** @param {string} id a session, or the copy of one */
    async remove(id) {
      const transaction = database.transaction(["sessions", "steps", "asides"], "readwrite");
      transaction.objectStore("sessions").delete(id);
      transaction.objectStore("steps").delete(stepsOf(id));
      transaction.objectStore("asides").delete(id);
      await transaction.done;
      dropJournal(id);
      await originals.drop(id);
    },

    /** Brings the slot of the first release here. */
    async adoptFirst() {
      const names = /** @type {unknown} */ (database.objectStoreNames);
      if (!(/** @type {DOMStringList} */ (names).contains(FIRST.slot))) return;
      const old = /** @type {import("idb").IDBPDatabase} */ (/** @type {unknown} */ (database));
      const slot = await old.get(FIRST.slot, "now");
      if (!slot) return;
      // The same id at every try, so that a try that was cut short is gone over again.
      const id = "from-first-release";
      for (const frame of Array.isArray(slot.reel) ? slot.reel : []) {
        const content = await old.get(FIRST.bytes, frame.id);
        if (!content) continue;
        const file = content instanceof Blob ? content : new Blob([content]);
        await originals.write(id, frame.id, file);
        frame.bytes = file.size;
      }
      await database.put("sessions", { ...slot, record: 1, id, changed: Date.now() });
      await old.clear(FIRST.slot);
      await old.clear(FIRST.bytes);
    },

    /** Lets go of sessions that nobody has done anything in. */
    async tidy() {
      const isOpen = await openSessions();
      for (const record of await database.getAll("sessions")) {
        const old = Date.now() - (record.changed ?? 0) > EMPTY_AGE;
        if (old && !hasWork(record) && !isOpen(record.id)) await this.remove(record.id);
      }
    },
  };
}

/**
 * @param {SessionRecord} record of which not much is certain
 * @param {boolean} open
 * @param {string} [why] it can't be read
 * @returns {Listing}
 */
function listing(record, open, why) {
  const own = (Array.isArray(record.frames) ? record.frames : []).filter(({ url }) => !url);
  const bytes = own.reduce((sum, frame) => sum + (frame.bytes ?? 0), 0);
  return { id: record.id, name: record.name ?? "Untitled look", frames: own.length, bytes, changed: record.changed ?? 0, open, ...(why === undefined ? {} : { why }) };
}
