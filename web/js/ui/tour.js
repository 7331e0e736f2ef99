/** A walk along the light path: each stage in two sentences. It is left at any time. */

/** @import { Catalogue } from "../../types.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "./notices.js" */

/**
 * @param {{ catalogue: Catalogue, store: Store, notices: Notices }} wiring
 * @returns {() => void} begins it
 */
export function createTour({ catalogue: { stages }, store, notices }) {
  /** @param {number} at */
  function go(at) {
    const stage = stages[at];
    if (!stage) return;
    store.set({ openStage: stage.id, panel: "controls" });
    const last = at === stages.length - 1;
    notices.say(`${at + 1} of ${stages.length}, ${stage.label.toLowerCase()}. ${stage.about}`, {
      topic: "tour",
      stays: true,
      action: { label: last ? "Done" : "Next", run: () => go(at + 1) },
    });
  }
  return () => go(0);
}
