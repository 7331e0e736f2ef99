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

/** The look that each kind of scene begins with. @type {Record<Suggests["scene"], string>} */
const BEGINS_WITH = { day: "fish-market", lamp: "night-ferry", dusk: "first-catch", person: "deck-passengers" };

/**
 * @param {{ store: Store, bridge: Bridge, client: Client, edits: Edits, notices: Notices, frame: () => ReelFrame | null }} wiring
 * @returns {Action[]}
 */
export function firstLookActions({ store, bridge, client, edits, notices, frame }) {
  /** @returns {Promise<Suggests | null>} */
  async function suggests() {
    const current = frame();
    if (!current) return null;
    return bridge.ask("firstLook", { id: current.id, settings: renderSettings(store.get().history.present, current.id) });
  }

  async function trim() {
    const found = await suggests();
    if (!found) return;
    const { words, changes } = suggestionSaid(found);
    const values = changes.map(([control, value]) => /** @type {[import("../../types.js").Place, number]} */ ([{ stage: "intake", step: "trim", control }, value]));
    const action = { label: "Take it", run: () => edits.setValues(values, false) };
    notices.say(words, { topic: "first-look", stays: true, ...(values.length > 0 ? { action } : {}) });
  }

  async function begin() {
    const found = await suggests();
    if (!found) return;
    const look = await libraryLook(BEGINS_WITH[found.scene], client);
    const action = { label: "Take it", run: () => edits.setLook(look) };
    notices.say(`\u201c${look.name}\u201d may suit this frame: ${found.reasons[2]}.`, { topic: "first-look", stays: true, action });
  }

  const enabled = () => frame()?.stage === "ready";
  return [
    { id: "suggest-trim", label: "Suggest exposure and light for this frame", group: "Frames", also: "auto automatic white balance neutral brightness", enabled, run: trim },
    { id: "suggest-look", label: "Suggest a look to begin with", group: "Look", also: "auto automatic start", enabled, run: begin },
  ];
}
