/** The work that this tab goes on with: found, owned and checked before anything is shown of it. */

/** @import { Catalogue, Doc, History, LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Kept } from "../pure/kept/record.js" */
/** @import { Database } from "./database.js" */
/** @import { Originals } from "./originals.js" */
/** @import { Shelf } from "./shelf.js" */

import { reasonOf } from "../bridge/bridge.js";
import { changeBetween, docsOf, historyOf } from "../pure/kept/changes.js";
import { NEWEST, mended } from "../pure/kept/check.js";
import { openDatabase } from "./database.js";
import { createOriginals } from "./originals.js";
import { own, rememberSession, tabSession } from "./ownership.js";
import { createShelf } from "./shelf.js";

/** What can't be read: why, and what of it could be gone on with. @typedef {{ id: string, why: string, rest?: Kept }} Trouble */
/**
 * `kept`: what the session was left as, if it is an old one.
 * @typedef {{ database: Database, originals: Originals, shelf: Shelf, id: string, kept: Kept | null, trouble: Trouble | null }} Found
 * @typedef {Found & { history: History | null }} Work
 */

/**
 * @param {{ onnewer: () => void }} wiring onnewer: a newer release has taken the store over
 * @returns {Promise<Found | null>} null where the browser keeps nothing
 */
export async function findWork({ onnewer }) {
  try {
    const database = await openDatabase({ onblocking: onnewer });
    const originals = createOriginals(database);
    const shelf = createShelf(database, originals);
    await shelf.adoptFirst().catch(() => {}); // It stays where it is, and is tried again.
    const before = tabSession();
    const fresh = before === "";
    const candidates = fresh ? [] : await shelf.candidates();
    const first = candidates.filter((id) => id === before);
    for (const id of [...first, ...candidates.filter((it) => it !== before)]) {
      if (!(await own(id, id === before))) continue;
      const found = { database, originals, shelf, id };
      try {
        const kept = await shelf.read(id);
        rememberSession(id);
        return { ...found, kept, trouble: null };
      } catch (error) {
        return { ...found, id: await newSession(), kept: null, trouble: { id, why: reasonOf(error) } };
      }
    }
    return { database, originals, shelf, id: await newSession(), kept: null, trouble: null };
  } catch (error) {
    // Private windows may refuse a database; the page works without one.
    if (/** @type {DOMException} */ (error).name === "VersionError") onnewer();
    return null;
  }
}

/** @returns {Promise<string>} the id of a session of this tab's own */
export async function newSession() {
  const id = crypto.randomUUID();
  await own(id);
  rememberSession(id);
  return id;
}

/**
 * Whether this release knows all that is in the session that was found; if not, a new one is begun.
 * @param {Found} found
 * @param {Catalogue} catalogue
 * @param {Client} client
 * @returns {Promise<Work>}
 */
export async function checkedWork(found, catalogue, client) {
  if (!found.kept) return { ...found, history: null };
  const { record, changes } = found.kept;
  const history = historyOf(record.base, changes, record.position);
  /** @type {Set<string>} */
  const left = new Set();
  const upgrade = createUpgrade(client);
  const docs = await Promise.all(
    docsOf(history).map((doc) => {
      const whole = mended(catalogue, doc);
      whole.left.forEach((part) => left.add(part));
      return upgrade(whole.doc);
    }),
  );
  const [base] = docs;
  const refusal = await client.readLook(JSON.stringify(docs[history.past.length]?.look)).then(() => null, reasonOf);
  if (refusal === null && left.size === 0) return { ...found, history: historyWith(history, docs) };
  const why = left.size > 0 ? `this release of Lookwright does not know ${listed([...left])}` : `its look can\u2019t be read: ${refusal}`;
  const rest = refusal === null && base ? { record: { ...record, base }, changes: docs.slice(1).map((doc, i) => changeBetween(docs[i] ?? base, doc)) } : undefined;
  return { ...found, id: await newSession(), kept: null, history: null, trouble: { id: found.id, why, ...(rest ? { rest } : {}) } };
}

/**
 * Brings looks of older versions to the present one, each once: the core knows how.
 * @param {Client} client
 * @returns {(doc: Doc) => Promise<Doc>}
 */
function createUpgrade(client) {
  /** @type {Map<LookData, Promise<LookData>>} */
  const looks = new Map();
  return async (doc) => {
    if (doc.look.lookwright === NEWEST) return doc;
    const look = looks.get(doc.look) ?? client.readLook(JSON.stringify(doc.look)).then((read) => read.look, () => doc.look);
    looks.set(doc.look, look);
    return { ...doc, look: await look };
  };
}

/**
 * Names may have been shortened.
 * @param {History} history
 * @param {History["past"]} docs
 * @returns {History}
 */
function historyWith(history, docs) {
  const at = history.past.length;
  return { ...history, past: docs.slice(0, at), present: docs[at] ?? history.present, future: docs.slice(at + 1) };
}

/** @param {string[]} names */
function listed(names) {
  const shown = names.slice(0, 3).join(", ");
  return names.length > 3 ? `${shown} and ${names.length - 3} more` : shown;
}
