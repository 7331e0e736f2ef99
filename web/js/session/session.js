/** The session, kept in this browser so that it survives a reload. */

/** @import { Doc, FrameId, ReelFrame, State } from "../../types.js" */

const DATABASE = "lookwright";
const SESSION = "session";
const BYTES = "bytes";
/** Frames larger than this together are not kept. */
const MOST_BYTES = 64 * 1024 * 1024;
const REST = 600;

/**
 * @typedef {object} Kept
 * @property {Doc} doc
 * @property {{ id: FrameId, name: string, url?: string, credit?: string, clip?: Omit<import("../../types.js").ClipFrames, "file">, initial: import("../../types.js").StageSettings }[]} reel
 * @property {FrameId | null} current
 * @property {State["view"]} view
 * @property {boolean} instruments
 */

/** @returns {Promise<IDBDatabase>} */
function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(SESSION);
      request.result.createObjectStore(BYTES);
    };
    request.onsuccess = () => {
      const database = request.result;
      // Another tab may want to delete it, and would wait.
      database.onversionchange = () => database.close();
      resolve(database);
    };
    request.onerror = () => reject(request.error);
  });
}

/**
 * @template T
 * @param {IDBRequest<T>} request
 * @returns {Promise<T>}
 */
function settled(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** @returns {Promise<{ kept: Kept, files: Map<FrameId, Blob> } | null>} */
export async function recall() {
  try {
    const database = await open();
    const transaction = database.transaction([SESSION, BYTES]);
    /** @type {Kept | undefined} */
    const kept = await settled(transaction.objectStore(SESSION).get("now"));
    if (!kept) {
      database.close();
      return null;
    }
    /** @type {Map<FrameId, Blob>} */
    const files = new Map();
    for (const frame of kept.reel) {
      const found = await settled(transaction.objectStore(BYTES).get(frame.id));
      // Earlier versions kept pictures as bytes.
      if (found) files.set(frame.id, found instanceof Blob ? found : new Blob([found]));
    }
    database.close();
    return { kept, files };
  } catch {
    // Private windows may refuse a database; the page works without one.
    return null;
  }
}

/**
 * @param {State} state
 * @param {Set<FrameId>} known frames whose bytes are kept already; brought up to date
 */
async function keep(state, known) {
  const database = await open();
  const transaction = database.transaction([SESSION, BYTES], "readwrite");
  const bytes = transaction.objectStore(BYTES);
  const reel = keepable(state.reel);
  for (const frame of reel) {
    const content = frame.clip?.file ?? frame.file;
    if (!content || frame.url || known.has(frame.id)) continue;
    bytes.put(content, frame.id);
    known.add(frame.id);
  }
  for (const id of known) {
    if (reel.some((frame) => frame.id === id)) continue;
    bytes.delete(id);
    known.delete(id);
  }
  /** @type {Kept} */
  const kept = {
    doc: state.history.present,
    reel: reel.map(({ id, name, url, credit, clip, initial }) => ({ id, name, initial, ...(url ? { url } : {}), ...(credit ? { credit } : {}), ...(clip ? { clip: withoutFile(clip) } : {}) })),
    current: reel.some((frame) => frame.id === state.current) ? state.current : (reel[0]?.id ?? null),
    view: state.view,
    instruments: state.instruments,
  };
  await settled(transaction.objectStore(SESSION).put(kept, "now"));
  database.close();
}

/**
 * @param {readonly ReelFrame[]} reel
 * @returns {ReelFrame[]} those that fit, from the first
 */
function keepable(reel) {
  let room = MOST_BYTES;
  return reel.filter((frame) => {
    if (frame.url) return true;
    room -= (frame.clip?.file ?? frame.file)?.size ?? 0;
    return room >= 0;
  });
}

/** @param {import("../../types.js").ClipFrames} clip */
const withoutFile = ({ rate, frames, number }) => ({ rate, frames, number });

/**
 * Keeps the session whenever it has rested for a moment.
 * @param {import("./store.js").Store} store
 * @param {Iterable<FrameId>} known frames whose bytes came from the last session
 */
export function keepSession(store, known) {
  const kept = new Set(known);
  let timer = 0;
  let last = Promise.resolve();
  const now = () => {
    last = last.then(() => keep(store.get(), kept)).catch(() => {});
  };
  store.subscribe(({ dragging }) => {
    clearTimeout(timer);
    if (!dragging) timer = setTimeout(now, REST);
  });
  addEventListener("pagehide", now);
}
