/** All looks that there are to choose from: what is on, kept versions, one's own, the library's. */

/** @import { Catalogue, LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Choice } from "../pure/looks/choices.js" */

import { libraryList, libraryLook } from "../look/library.js";
import { hasColour, originOf, whatFor } from "../pure/looks/choices.js";
import { changesSaid } from "../pure/looks/difference.js";

/** @type {Promise<Choice[]> | null} */
let library = null;

/**
 * The library's looks, read once.
 * @param {Catalogue} catalogue
 * @param {Client} client
 * @returns {Promise<Choice[]>} rejects with one sentence
 */
export function libraryChoices(catalogue, client) {
  library ??= readLibrary(catalogue, client);
  library.catch(() => (library = null));
  return library;
}

/** @param {Catalogue} catalogue @param {Client} client @returns {Promise<Choice[]>} */
async function readLibrary(catalogue, client) {
  const entries = await libraryList();
  return Promise.all(
    entries.map(async ({ id, title, note }) => {
      const look = await libraryLook(id, client);
      return { id: `library-${id}`, kind: /** @type {const} */ ("library"), name: title, what: whatFor(note), note, look, colour: hasColour(catalogue, look) };
    }),
  );
}

/**
 * The look that is on, if it is none of the others.
 * @param {Catalogue} catalogue
 * @param {LookData} look
 * @param {readonly Choice[]} others
 * @returns {{ bench: Choice | null, on: string }} on: the id of the choice that is on
 */
export function benchChoice(catalogue, look, others) {
  const origin = originOf(catalogue, look, others);
  if (origin?.changes === 0) return { bench: null, on: origin.choice.id };
  const from = origin && (origin.choice.look.name === look.name ? "" : ` from ${origin.choice.name}`);
  const what = origin ? `on now \u00b7 ${changesSaid(origin.changes)}${from}` : "on now";
  return { bench: { id: "bench", kind: "bench", name: look.name ?? "Untitled look", what, note: look.note ?? "", look, colour: hasColour(catalogue, look) }, on: "bench" };
}
