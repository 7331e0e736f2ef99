/** Keeps this tab's session in the browser's store, a moment after every change. */

/** @import { Doc, FrameId, ReelFrame, State } from "../../types.js" */
/** @import { Change } from "../pure/kept/changes.js" */
/** @import { SessionRecord } from "../pure/kept/record.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Database } from "./database.js" */
/** @import { Originals } from "./originals.js" */

import { changeBetween, docsOf, firstNew } from "../pure/kept/changes.js";
import { outOfReach } from "../pure/kept/reach.js";
import { RECORD_VERSION } from "../pure/kept/record.js";
import { dropJournal, writeJournal } from "./journal.js";

/** @typedef {ReturnType<typeof createKeeper>} Keeper */

/** How long after a change it is written, in ms; while something moves. */
const REST = 40;
const MOVING_REST = 300;
/** How many steps of the history are kept. */
const STEPS_MOST = 1000;

/** What of the state is kept. */
const PARTS = /** @type {const} */ (["history", "reel", "attached", "current", "view", "instruments", "scopeStage", "scopeSide", "chromaticity"]);

/** What of it a person made or brought: the rest is only how it is looked at. */
const EDITED = /** @type {const} */ (["history", "reel", "attached"]);

/**
 * @param {{ store: Store, database: Database, originals: Originals,
 *   session: { id: string, record: SessionRecord | null }, onproblem: (words: string) => void }} wiring
 *   session: this tab's, with its record if it is an old one
 */
export function createKeeper({ store, database, originals, session: { id, record: before }, onproblem }) {
  let revision = before?.revision ?? 0;
  /** The number of the document that the history in memory begins with. */
  const offset = (before?.first ?? 1) - 1;
  /** Steps of the documents that were written, from that one on. @type {number[]} */
  let written = before ? docsOf(store.get().history).map(({ step = 0 }) => step) : [];
  /** Originals that are committed, whether or not a record names them yet. */
  const committed = new Set(before?.frames.map((frame) => frame.id));
  /** Originals that were begun to be written. */
  const begun = new Set();
  let seen = store.get();
  let dirty = false;
  let busy = false;
  let timer = 0;
  let gone = false;
  let complained = false;

  /** @param {ReelFrame} frame */
  const isKept = (frame) => frame.kept === "demo" || committed.has(frame.id);

  /** @param {State} state */
  function content(state) {
    const docs = docsOf(state.history);
    const base = Math.max(0, state.history.past.length - STEPS_MOST);
    const unreachable = outOfReach(docs);
    const frames = state.reel.filter((frame) => isKept(frame) && !unreachable.has(frame.id));
    /** @type {SessionRecord} */
    const record = {
      record: RECORD_VERSION,
      id,
      name: state.history.present.look.name ?? "Untitled look",
      changed: Date.now(),
      revision: revision + 1,
      frames: frames.map(frameRecord),
      base: /** @type {Doc} */ (docs[base]),
      first: offset + base + 1,
      steps: docs.length - 1 - base,
      position: state.history.past.length - base,
      current: frames.some((frame) => frame.id === state.current) ? state.current : (frames[0]?.id ?? null),
      view: state.view,
      instruments: state.instruments,
      scopes: { stage: state.scopeStage, side: state.scopeSide, chromaticity: state.chromaticity },
      attached: state.attached,
    };
    const from = Math.max(firstNew(docs, written), base + 1);
    /** @type {Change[]} */
    const changes = [];
    for (let i = from; i < docs.length; i += 1) changes.push(changeBetween(/** @type {Doc} */ (docs[i - 1]), /** @type {Doc} */ (docs[i])));
    return { docs, record, from: offset + from, changes };
  }

  async function write() {
    const state = store.get();
    const { docs, record, from, changes } = content(state);
    const transaction = database.transaction(["sessions", "steps"], "readwrite", { durability: "strict" });
    const steps = transaction.objectStore("steps");
    transaction.objectStore("sessions").put(record);
    steps.delete(IDBKeyRange.bound([id, -Infinity], [id, record.first], false, true));
    steps.delete(IDBKeyRange.bound([id, from], [id, Infinity]));
    changes.forEach((change, i) => steps.put({ session: id, number: from + i, change }));
    await transaction.done;
    revision = record.revision;
    written = docs.map(({ step = 0 }) => step);
    if (!dirty) dropJournal(id);
    markKept(record);
    await letGo(record);
  }

  /**
   * Lets go of frames that undo can't bring back any more, once no record names them.
   * @param {SessionRecord} record that was committed
   */
  async function letGo({ frames }) {
    const named = new Set(frames.map((frame) => frame.id));
    const unreachable = outOfReach(docsOf(store.get().history));
    const reel = store.get().reel.filter((frame) => named.has(frame.id) || !unreachable.has(frame.id));
    if (reel.length < store.get().reel.length) store.set({ reel });
    const there = new Set(reel.map((frame) => frame.id));
    const stale = [...committed].filter((frame) => !there.has(frame) && !named.has(frame));
    if (stale.length === 0) return;
    for (const frame of stale) committed.delete(frame);
    await originals.drop(id, (frame) => !stale.includes(frame)).catch(() => {}); // The session's next start tries again.
  }

  /** @param {SessionRecord} record that was committed: its frames are kept now, and not before */
  function markKept({ frames }) {
    const ids = new Set(frames.map((frame) => frame.id));
    const { reel } = store.get();
    if (!reel.some((frame) => frame.kept === "waiting" && ids.has(frame.id))) return;
    store.set({ reel: reel.map((frame) => (frame.kept === "waiting" && ids.has(frame.id) ? kept(frame) : frame)) });
  }

  async function work() {
    if (busy || gone) return;
    busy = true;
    while (dirty && !gone) {
      dirty = false;
      try {
        await write();
        complained = false;
        if (!dirty) store.set({ kept: "yes" });
      } catch (error) {
        store.set({ kept: "no" });
        if (!complained) onproblem(`Work can't be kept in this browser now (${reasonOf(error)}). Save the session as a file before you leave.`);
        complained = true;
        break;
      }
    }
    busy = false;
  }

  store.subscribe((state) => {
    const changed = PARTS.some((part) => state[part] !== seen[part]);
    const edited = EDITED.some((part) => state[part] !== seen[part]);
    seen = state;
    if (!changed || gone) return;
    dirty = true;
    if (edited && state.kept === "yes") store.set({ kept: "writing" });
    clearTimeout(timer);
    timer = setTimeout(work, state.dragging || !edited ? MOVING_REST : REST);
  });

  /** The page may be gone at any moment now. */
  function leave() {
    if (gone || (!dirty && !busy)) return;
    const { record, from, changes } = content(store.get());
    writeJournal({ record: { ...record, revision: record.revision + (busy ? 1 : 0) }, from, changes });
    clearTimeout(timer);
    work();
  }
  addEventListener("pagehide", leave);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && leave());

  return {
    id,

    /**
     * Keeps a frame's original.
     * @param {FrameId} frame
     * @param {Blob} file
     */
    async keepOriginal(frame, file) {
      begun.add(frame);
      await originals.write(id, frame, file);
      committed.add(frame);
      dirty = true;
      await work();
    },

    /** Writes what is not written yet. */
    async settle() {
      clearTimeout(timer);
      while (!gone && (dirty || busy)) {
        if (busy) await new Promise((resolve) => setTimeout(resolve, 5));
        else await work();
        if (store.get().kept === "no") return;
      }
    },

    /** The session as a file has it: with frames, whether or not they fit into the store. */
    whole() {
      const state = store.get();
      const { docs, record } = content(state);
      const frames = state.reel.filter((frame) => frame.info || frame.url);
      const base = record.first - offset - 1;
      const changes = docs.slice(base + 1).map((doc, i) => changeBetween(/** @type {Doc} */ (docs[base + i]), doc));
      return { content: { record: { ...record, frames: frames.map(frameRecord) }, changes }, frames: frames.filter(({ url }) => !url) };
    },

    /** A newer release has taken the database over. */
    stop() {
      gone = true;
      store.set({ kept: "no" });
    },

    /** Lets go of originals that neither the reel nor the history knows, and of frames that can't come back. */
    async tidy() {
      const { reel, history } = store.get();
      const unreachable = outOfReach(docsOf(history));
      if (reel.some((frame) => unreachable.has(frame.id))) {
        dirty = true;
        await work();
      }
      await originals.drop(id, (frame) => committed.has(frame) || begun.has(frame));
    },
  };
}

/**
 * @param {ReelFrame} frame
 * @returns {ReelFrame} without the person's own file, which may change or go
 */
function kept({ file: _, ...frame }) {
  return { ...frame, kept: "yes" };
}

/** @param {ReelFrame} frame @returns {import("../pure/kept/record.js").FrameRecord} */
function frameRecord({ id, name, url, credit, bytes, clip, info, initial }) {
  return { id, name, initial, ...(url ? { url } : {}), ...(credit ? { credit } : {}), ...(bytes ? { bytes } : {}), ...(clip ? { clip } : {}), ...(info ? { info } : {}) };
}

/** @param {unknown} error */
function reasonOf(error) {
  const { name } = /** @type {DOMException} */ (error);
  return name === "QuotaExceededError" ? "it has no room left" : "its store does not answer";
}
