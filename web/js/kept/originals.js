/**
 * The originals: files as they came. They lie in the browser's private file system where it has
 * one, which takes them piece by piece and gives them back without reading them; else in the
 * database. Either way a file is there whole or not at all.
 */

/** @import { FrameId } from "../../types.js" */
/** @import { Database } from "./database.js" */

/** @typedef {ReturnType<typeof createOriginals>} Originals */

const FOLDER = "originals";
/** What stays free for the records themselves, in bytes. */
const RESERVE = 16 << 20;

/** Said of what the browser won't take. */
export class NoRoom extends Error {}

/** @returns {Promise<FileSystemDirectoryHandle | null>} */
async function folder() {
  try {
    if (!("createWritable" in FileSystemFileHandle.prototype)) return null;
    const root = await navigator.storage.getDirectory();
    return await root.getDirectoryHandle(FOLDER, { create: true });
  } catch {
    return null;
  }
}

/** @returns {Promise<number>} bytes that may still be kept, as far as the browser says */
export async function roomLeft() {
  const { quota, usage = 0 } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {};
  return quota === undefined ? Infinity : Math.max(0, quota - usage - RESERVE);
}

/** @param {Database} database */
export function createOriginals(database) {
  const files = folder();

  /**
   * @param {string} session
   * @param {boolean} create
   */
  async function own(session, create) {
    return (await files)?.getDirectoryHandle(session, { create }).catch((error) => {
      if (create) throw error;
      return null;
    });
  }

  /**
   * @param {string} session
   * @param {FrameId} id
   * @param {Blob} file
   */
  async function put(session, id, file) {
    const place = await own(session, true);
    if (!place) {
      // A copy: the person's own file may change or go.
      const copy = new Blob([await file.arrayBuffer()], { type: file.type });
      await database.put("originals", copy, [session, id]);
      return;
    }
    const handle = await place.getFileHandle(id, { create: true });
    try {
      // The file is in its place only when all of it was written.
      await file.stream().pipeTo(await handle.createWritable());
    } catch (error) {
      await place.removeEntry(id).catch(() => {});
      throw error;
    }
  }

  return {
    /**
     * Keeps a file; it is kept when this resolves, and not before.
     * @param {string} session
     * @param {FrameId} id
     * @param {Blob} file
     * @returns {Promise<void>} rejects with {@link NoRoom}, or with one sentence
     */
    async write(session, id, file) {
      if (file.size > (await roomLeft())) throw new NoRoom("this browser has no room left for it");
      try {
        await put(session, id, file);
      } catch (error) {
        const { name } = /** @type {DOMException} */ (error);
        if (name === "QuotaExceededError") throw new NoRoom("this browser has no room left for it");
        if (name === "NotReadableError" || name === "NotFoundError") throw new Error("the file was changed or moved meanwhile");
        throw new Error("this browser refused to keep it");
      }
    },

    /**
     * @param {string} session
     * @param {FrameId} id
     * @returns {Promise<Blob | null>}
     */
    async read(session, id) {
      const place = await own(session, false);
      const handle = await place?.getFileHandle(id).catch(() => null);
      const file = (await handle?.getFile()) ?? (await database.get("originals", [session, id]));
      return file && file.size > 0 ? file : null;
    },

    /**
     * Lets go of originals.
     * @param {string} session
     * @param {(id: FrameId) => boolean} [unless] those that stay
     */
    async drop(session, unless) {
      const all = IDBKeyRange.bound([session, ""], [session, "\uffff"]);
      for (const key of await database.getAllKeys("originals", all)) {
        if (!unless?.(key[1])) await database.delete("originals", key);
      }
      const place = await own(session, false);
      if (!place) return;
      if (!unless) return (await files)?.removeEntry(session, { recursive: true });
      /** @type {string[]} */
      const gone = [];
      for await (const id of place.keys()) if (!unless(id)) gone.push(id);
      for (const id of gone) await place.removeEntry(id).catch(() => {});
    },
  };
}
