/** The person's own looks: kept beside all sessions, shared by every tab. */

/** @import { Database, OwnLook } from "./database.js" */

import { isRecord } from "../pure/kept/check.js";

/** @typedef {ReturnType<typeof createLooks>} Looks */

/** Tells other tabs that there are other looks now. */
const CHANNEL = "lookwright.looks";

/** @param {Database} database */
export function createLooks(database) {
  const channel = new BroadcastChannel(CHANNEL);
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const tell = () => listeners.forEach((listener) => listener());
  channel.onmessage = tell;

  /** Here, and in every other tab. */
  function changed() {
    tell();
    channel.postMessage(null);
  }

  return {
    /**
     * Those that this release can read, in their order; others stay where they are.
     * @returns {Promise<OwnLook[]>}
     */
    async list() {
      const looks = (await database.getAll("looks")).filter(isOwnLook);
      return looks.sort((a, b) => a.order - b.order || a.made - b.made);
    },

    /** @returns {Promise<number>} how many this release can't read */
    unread: async () => (await database.getAll("looks")).filter((look) => !isOwnLook(look)).length,

    /**
     * Keeps a look, in place of the one with its id. It is kept when this resolves, and not before.
     * @param {...OwnLook} looks all of them or none
     * @returns {Promise<void>} rejects with one sentence
     */
    async put(...looks) {
      try {
        const transaction = database.transaction("looks", "readwrite", { durability: "strict" });
        await Promise.all([...looks.map((look) => transaction.store.put(look)), transaction.done]);
      } catch (error) {
        const full = /** @type {DOMException} */ (error).name === "QuotaExceededError";
        throw new Error(full ? "This browser has no room left for the look; save it as a file." : "This browser refused to keep the look; save it as a file.");
      }
      changed();
    },

    /**
     * @param {string} id
     * @returns {Promise<OwnLook | null>} what was taken away: `put` brings it back
     */
    async remove(id) {
      const look = (await database.get("looks", id)) ?? null;
      await database.delete("looks", id);
      changed();
      return look;
    },

    /** @param {() => void} listener told whenever there are other looks, whichever tab did it */
    onchange(listener) {
      listeners.add(listener);
    },
  };
}

/**
 * @param {unknown} it as it lies in the store
 * @returns {it is OwnLook}
 */
function isOwnLook(it) {
  if (!isRecord(it) || it["v"] !== 1 || !isRecord(it["look"]) || !Array.isArray(it["ancestors"])) return false;
  const texts = ["id", "name", "note"].every((key) => typeof it[key] === "string");
  return texts && ["order", "made", "changed"].every((key) => typeof it[key] === "number");
}
