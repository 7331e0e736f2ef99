/** Keeps the look in the address bar, and reads it from there. */

/** @import { LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { fromLink, toLink } from "./link.js";

/** Rest before the address is written, in milliseconds: browsers limit how often it may change. */
const REST = 400;

/**
 * @param {{ store: Store, client: Client, edits: Edits, notices: Notices }} wiring
 */
export function keepAddress({ store, client, edits, notices }) {
  /** @type {LookData | null} */
  let written = null;
  let timer = 0;

  async function write() {
    const { look } = store.get().history.present;
    if (look === written) return;
    written = look;
    const { canonical } = await client.readLook(JSON.stringify(look));
    const link = await toLink(canonical);
    if (store.get().history.present.look === look) history.replaceState(null, "", link);
  }

  store.subscribe(({ history: { present }, dragging }) => {
    clearTimeout(timer);
    if (!dragging && present.look !== written) timer = setTimeout(() => write().catch(notices.problem), REST);
  });

  addEventListener("hashchange", async () => {
    try {
      const look = await lookFromAddress(client);
      if (look) edits.setLook(look);
    } catch (error) {
      notices.problem(error);
    }
  });
}

/**
 * @param {Client} client
 * @returns {Promise<LookData | null>} rejects with one sentence if the address is broken
 */
export async function lookFromAddress(client) {
  const text = await fromLink(location.hash);
  if (text === null) return null;
  return (await client.readLook(text)).look;
}
