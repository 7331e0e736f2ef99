/**
 * A session as one file: a zip of its record and its originals, as they lie in the browser's store.
 * Nothing is packed, as pictures are packed already.
 */

/** @import { FrameId } from "../../types.js" */

import { Unzip, UnzipInflate, Zip, ZipPassThrough } from "fflate";

export const ENDING = ".session.zip";
const RECORD = "session.json";
const FOLDER = "originals/";
/** What a zip rejects with that holds something else. */
export class NoSession extends Error {}

/** A zip without extensions, which is what is written, can't be larger. */
const MOST_BYTES = 4_000_000_000;
/** Longest record that is read. */
const RECORD_MOST = 256 << 20;

/**
 * @param {{ record: unknown, changes: unknown[] }} session
 * @param {{ id: FrameId, file: Blob }[]} originals
 * @returns {Promise<Blob>}
 */
export async function packSession(session, originals) {
  const total = originals.reduce((sum, { file }) => sum + file.size, 0);
  if (total > MOST_BYTES) throw new Error("The session is larger than 4 GB, which one zip can't hold; take some frames off the reel first.");
  /** @type {BlobPart[]} */
  const parts = [];
  /** @type {Error | null} */
  let failed = null;
  const zip = new Zip((error, chunk) => {
    failed ??= error;
    parts.push(/** @type {Uint8Array<ArrayBuffer>} */ (chunk));
  });
  const head = new ZipPassThrough(RECORD);
  zip.add(head);
  head.push(new TextEncoder().encode(JSON.stringify(session)), true);
  for (const { id, file } of originals) {
    const entry = new ZipPassThrough(FOLDER + id);
    zip.add(entry);
    await pour(file, (bytes) => entry.push(bytes));
    entry.push(new Uint8Array(), true);
    // A blob need not stay in memory.
    parts.splice(0, parts.length, new Blob(parts));
  }
  zip.end();
  if (failed) throw failed;
  return new Blob(parts, { type: "application/zip" });
}

/**
 * @param {Blob} file
 * @returns {Promise<{ session: { record: unknown, changes: unknown[] }, originals: Map<FrameId, Blob> }>}
 */
export async function unpackSession(file) {
  /** @type {Map<string, Blob>} */
  const found = new Map();
  const reader = new Unzip((entry) => {
    /** @type {BlobPart[]} */
    const parts = [];
    entry.ondata = (error, chunk, final) => {
      if (error) throw error;
      parts.push(/** @type {Uint8Array<ArrayBuffer>} */ (chunk));
      if (final) found.set(entry.name, new Blob(parts));
    };
    if (entry.name === RECORD || entry.name.startsWith(FOLDER)) entry.start();
  });
  reader.register(UnzipInflate);
  try {
    await pour(file, (bytes) => reader.push(bytes));
    reader.push(new Uint8Array(), true);
  } catch {
    throw new Error("the file is damaged or cut short");
  }
  const head = found.get(RECORD);
  if (!head) throw new NoSession("it is not a session that Lookwright saved");
  if (head.size > RECORD_MOST) throw new Error("its record is too long to be one");
  const session = await head.text().then(JSON.parse).catch(() => null);
  if (!session?.record || !Array.isArray(session.changes)) throw new Error("its record can't be read");
  const originals = [...found].flatMap(([name, content]) => (name.startsWith(FOLDER) ? [/** @type {const} */ ([name.slice(FOLDER.length), content])] : []));
  return { session, originals: new Map(originals) };
}

/**
 * @param {Blob} file
 * @param {(bytes: Uint8Array) => void} take
 */
async function pour(file, take) {
  const reader = file.stream().getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    take(value);
  }
}
