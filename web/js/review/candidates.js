/** The looks that a review may let a client choose from. */

/** @import { LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { LibraryEntry } from "../look/library.js" */
/** @import { Store } from "../session/store.js" */

import { libraryLook } from "../look/library.js";
import { readVersions } from "../pure/looks/versions.js";

/** @typedef {{ id: string, label: string, group: string, look: () => Promise<LookData> }} Candidate */

const HERE = "On the desk";

/**
 * @param {{ store: Store, client: Client, library: LibraryEntry[], own: { id: string, name: string, look: LookData }[] }} given
 *   own: looks that the person has kept
 * @returns {Candidate[]} the present one first
 */
export function candidates({ store, client, library, own }) {
  const { history, received, attached } = store.get();
  const { look } = history.present;
  /** @type {Candidate[]} */
  const found = [{ id: "now", label: look.name || "The look as it is", group: HERE, look: async () => look }];
  if (received) found.push({ id: "received", label: `${received.look.name || "Untitled"} (received)`, group: HERE, look: async () => received.look });
  found.push(...readVersions(attached["versions"]).map(({ letter, name, look: kept }) => ({ id: `version-${letter}`, label: `${letter}: ${name}`, group: "Kept versions", look: async () => kept })));
  const names = new Set([look.name]);
  // What was on before, by name: a look as it was when another one took its place.
  [...history.past].reverse().forEach((doc, i) => {
    if (names.has(doc.look.name)) return;
    names.add(doc.look.name);
    found.push({ id: `past-${i}`, label: `${doc.look.name || "Untitled"} (before)`, group: HERE, look: async () => doc.look });
  });
  found.push(...own.map(({ id, name, look: kept }) => ({ id: `own-${id}`, label: name || "Untitled", group: "Your looks", look: async () => kept })));
  found.push(...library.map(({ id, title }) => ({ id: `library-${id}`, label: title, group: "Looks of Saltmarket", look: () => libraryLook(id, client) })));
  return found;
}
