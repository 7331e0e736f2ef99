/** What a person does with kept work: go on with other work, begin anew, take it out as a file and in. */

/** @import { ReelFrame } from "../../types.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Keeper } from "./keeper.js" */
/** @import { Work } from "./work.js" */

import { onReel } from "../pure/history.js";
import { readRecord } from "../pure/kept/record.js";
import { fileStem } from "../save/download.js";
import { createLooks } from "./looks.js";
import { rememberSession } from "./ownership.js";
import { ENDING, packSession, unpackSession } from "./session-file.js";

/** @typedef {ReturnType<typeof createDeskWork>} DeskWork */

/** Said where the browser keeps nothing. */
const KEEPS_NOTHING = "This browser keeps nothing between visits here, as in some private windows.";

/**
 * @param {{ work: Work | null, keeper: () => Keeper | null, store: Store, notices: Notices, download: Download,
 *   originalOf: (frame: ReelFrame) => Promise<Blob> }} wiring
 */
export function createDeskWork({ work, keeper, store, notices, download, originalOf }) {
  function shelf() {
    if (!work) throw new Error(KEEPS_NOTHING);
    return work.shelf;
  }

  /** @param {string} id the session to come back to; none begins anew */
  async function turnTo(id) {
    await keeper()?.settle();
    rememberSession(id);
    // The address bar says what this session's look is.
    history.replaceState(null, "", location.pathname + location.search);
    location.reload();
  }

  /**
   * @param {unknown} record of which nothing is certain
   * @returns {ReelFrame[]} the frames that have an original
   */
  function framesOf(record) {
    const { frames, reel } = /** @type {{ frames?: ReelFrame[], reel?: ReelFrame[] }} */ (record ?? {});
    const all = frames ?? reel;
    return Array.isArray(all) ? all.filter((frame) => frame && !frame.url) : [];
  }

  return {
    /** Whether there is anywhere to keep work. */
    keeps: work !== null,
    own: work?.id ?? "",
    turnTo,

    /** The person's own looks, beside all sessions; null where nothing is kept. */
    looks: work && createLooks(work.database),

    list: async () => (work ? work.shelf.list() : []),
    copies: async () => (work ? work.shelf.copies() : []),

    /** @param {string} id */
    remove: (id) => shelf().remove(id),

    /** Frames of the person's that were taken off the reel, which undo can bring back. */
    removed() {
      const { reel, history } = store.get();
      const shown = onReel(reel, history.present);
      return reel.filter((frame) => !frame.url && !shown.includes(frame));
    },

    /** Lets go of them for good: what they take is free again. */
    async freeRemoved() {
      const away = this.removed();
      store.set({ reel: store.get().reel.filter((frame) => !away.includes(frame)) });
      await keeper()?.settle();
    },

    /** Whether the browser has promised not to clear what is kept when the disk fills up. */
    promised: async () => (await navigator.storage?.persisted?.()) ?? false,

    /** This tab's session as one file. */
    async saveOwn() {
      const name = fileStem(store.get().history.present.look.name ?? "Session");
      const session = keeper()?.whole() ?? null;
      if (!session) throw new Error(KEEPS_NOTHING);
      const originals = await Promise.all(session.frames.map(async (frame) => ({ id: frame.id, file: await originalOf(frame) })));
      download(name + ENDING, await packSession(session.content, originals), "application/zip");
    },

    /**
     * Another session, or what can't be read, as a file.
     * @param {string} id
     * @param {{ record: unknown, changes: unknown[] }} [copy] in place of what the store has
     */
    async saveOther(id, copy) {
      const content = copy ?? (await shelf().raw(id));
      const originals = [];
      for (const frame of framesOf(content.record)) {
        const file = await work?.originals.read(id, frame.id);
        if (file) originals.push({ id: frame.id, file });
      }
      const { name } = /** @type {{ name?: string }} */ (content.record ?? {});
      download(fileStem(name ?? "Session") + ENDING, await packSession(content, originals), "application/zip");
    },

    /**
     * Takes a session's file in, beside the work on the desk.
     * @param {File} file
     */
    async takeIn(file) {
      const { session, originals } = await unpackSession(file);
      const { record, changes } = readRecord(session.record, session.changes);
      const id = crypto.randomUUID();
      const missing = record.frames.filter((frame) => !frame.url && !originals.has(frame.id));
      if (missing.length > 0) throw new Error(`it lacks the picture of ${missing[0]?.name}`);
      for (const frame of record.frames) {
        const original = originals.get(frame.id);
        if (!original || !work) continue;
        try {
          await work.originals.write(id, frame.id, original);
        } catch (error) {
          await work.originals.drop(id);
          throw error;
        }
      }
      await shelf().put({ record: { ...record, id, revision: 0, changed: Date.now() }, changes });
      notices.say(`${file.name} is kept beside the work on the desk.`, { action: { label: "Go on with it", run: () => void turnTo(id).catch(notices.problem) } });
    },

    /** Goes on with what can be read of a session, and keeps a copy of all of it. */
    async mend() {
      const trouble = work?.trouble;
      if (!work || !trouble?.rest) return;
      const copy = await work.shelf.raw(trouble.id);
      await work.shelf.putAside({ id: `${trouble.id}.copy`, why: trouble.why, at: Date.now(), copy });
      await work.shelf.put({ ...trouble.rest, record: { ...trouble.rest.record, revision: Date.now() } });
      await turnTo(trouble.id);
    },

    /** Leaves a session that can't be read where it is, and does not try it again. */
    async putAside() {
      const trouble = work?.trouble;
      if (work && trouble) await work.shelf.putAside({ id: trouble.id, why: trouble.why, at: Date.now() });
    },
  };
}
