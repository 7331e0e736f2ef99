/** Keeps the look in the address bar, and reads one that came by a link. */

/** @import { LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { withPageOf, withoutPage } from "../lesson/address.js";
import { readIncoming } from "./incoming.js";
import { fromLink, toLink } from "./link.js";

/** Rest before the address is written, in milliseconds: browsers limit how often it may change. */
const REST = 400;
/** What this page itself wrote there, so that a reload does not take it for a link. */
const OWN = "lookwright.address";

/**
 * @param {{ store: Store, client: Client, notices: Notices, onlook: (look: LookData) => void }} wiring
 *   onlook: a link was followed in the open page
 */
export function keepAddress({ store, client, notices, onlook }) {
  /** @type {LookData | null} */
  let written = null;
  let timer = 0;

  async function write() {
    const { look } = store.get().history.present;
    if (look === written) return;
    written = look;
    const { canonical } = await client.readLook(JSON.stringify(look));
    const link = await toLink(canonical);
    if (store.get().history.present.look !== look || store.get().received) return;
    history.replaceState(null, "", withPageOf(link, location.hash));
    remember(link);
  }

  store.subscribe(({ history: { present }, dragging, received }) => {
    clearTimeout(timer);
    if (!dragging && !received && present.look !== written) timer = setTimeout(() => write().catch(notices.problem), REST);
  });

  addEventListener("hashchange", async ({ newURL }) => {
    try {
      // By now the address may say again what is on.
      const look = await lookFromAddress(client, notices, new URL(newURL).hash);
      if (look) onlook(look);
    } catch (error) {
      notices.problem(error);
    }
    // The address says again what is on.
    written = null;
  });
}

/**
 * @param {Client} client
 * @param {Notices} notices
 * @param {string} hash of the address
 * @returns {Promise<LookData | null>} null if there is none, or it is this page's own; rejects with
 *   one sentence if it is broken
 */
export async function lookFromAddress(client, notices, hash) {
  // A page of the lesson behind one's own look makes no link of it.
  if (withoutPage(hash) === recalled()) return null;
  const text = await fromLink(hash);
  if (text === null) return null;
  const { look, said } = await readIncoming(text, client).catch((error) => {
    throw new Error(`The link's look can't be read, so what is here stays as it is: ${error instanceof Error ? error.message : error}`);
  });
  if (said) notices.say(`The link's look: ${said}`);
  return look;
}

/** @param {string} hash */
function remember(hash) {
  try {
    sessionStorage.setItem(OWN, hash);
  } catch {
    // A reload then shows the look as one received.
  }
}

function recalled() {
  try {
    return sessionStorage.getItem(OWN);
  } catch {
    return null;
  }
}
