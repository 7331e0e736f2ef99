/** The light path: the six stages along the beam. */

/** @import { Catalogue, StageId, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Store } from "../../session/store.js" */

import { h } from "../dom.js";
import { createStage } from "./stage.js";

/**
 * @param {{ catalogue: Catalogue, store: Store, edits: Edits, client: Client }} wiring
 */
export function createLightPath({ catalogue, store, edits, client }) {
  /** @param {StageId} id */
  function toggleStage(id) {
    store.set({ openStage: store.get().openStage === id ? null : id });
  }

  /** @param {string} step `stage.step` */
  function toggleStep(step) {
    const open = store.get().openSteps;
    store.set({ openSteps: open.includes(step) ? open.filter((it) => it !== step) : [...open, step] });
  }

  let arrivesAs = "code";
  const stages = catalogue.stages.map((stage) => {
    const view = createStage({
      catalogue,
      stage,
      arrivesAs,
      edits,
      client,
      onopen: () => toggleStage(stage.id),
      onstep: (step) => toggleStep(`${stage.id}.${step}`),
    });
    arrivesAs = view.leavesAs;
    return { id: stage.id, view };
  });

  return {
    el: h("ol", { class: "stages" }, ...stages.map((stage) => stage.view.el)),
    /** Where each stage's live picture goes. */
    thumbs: new Map(stages.map((stage) => [stage.id, stage.view.thumb])),
    /** @param {State} state */
    update(state) {
      for (const stage of stages) stage.view.update(state);
    },
  };
}
