/** What the frame itself suggests for its exposure and light, and which look to begin with: said, and taken by one press. */

/** @import { ReelFrame, Suggests } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Action } from "../ui/actions.js" */
/** @import { Notices } from "../ui/notices.js" */

import { renderSettings } from "../picture/render-settings.js";
import { suggestionSaid } from "../pure/looks/suggestion.js";
import { libraryLook } from "./library.js";
import { takeTrim } from "./take-trim.js";

/** The look that each kind of scene begins with. @type {Record<Suggests["scene"], string>} */
const BEGINS_WITH = { day: "fish-market", lamp: "night-ferry", dusk: "first-catch", person: "deck-passengers" };

/**
 * @param {{ store: Store, bridge: Bridge, client: Client, edits: Edits, notices: Notices, frame: () => ReelFrame | null }} wiring
 * @returns {Action[]}
 */
export function firstLookActions({ store, bridge, client, edits, notices, frame }) {
  /** @returns {Promise<Suggests & { id: string, name: string } | null>} with the frame that it is for */
  async function suggests() {
    const current = frame();
    if (!current) return null;
    const { id, name } = current;
    return { ...(await bridge.ask("firstLook", { id, settings: renderSettings(store.get().history.present, id) })), id, name };
  }

  async function trim() {
    const found = await suggests();
    if (!found) return;
    const { id, name, words, changes } = { ...found, ...suggestionSaid(found) };
    /** By now another frame may be looked at: it is this one's. */
    const take = () => takeTrim({ store, edits }, { id, changes, made: `exposure and light of ${name} as it suggests` });
    notices.say(`${name}: ${words}`, { topic: "first-look", stays: true, ...(changes.length > 0 ? { action: { label: "Take it", run: take } } : {}) });
  }

  async function begin() {
    const found = await suggests();
    if (!found) return;
    const look = await libraryLook(BEGINS_WITH[found.scene], client);
    const action = { label: "Take it", run: () => edits.setLook(look) };
    notices.say(`\u201c${look.name}\u201d may suit ${found.name}: ${found.reasons[2]}.`, { topic: "first-look", stays: true, action });
  }

  const enabled = () => frame()?.stage === "ready";
  return [
    { id: "suggest-trim", label: "Suggest exposure and light for this frame", group: "Frames", also: "auto automatic white balance neutral brightness", enabled, run: trim },
    { id: "suggest-look", label: "Suggest a look to begin with", group: "Look", also: "auto automatic start", enabled, run: begin },
  ];
}
