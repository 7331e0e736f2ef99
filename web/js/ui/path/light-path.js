/** The light path: six gates along the beam, and the panel that holds what the open one has to set. */

/** @import { Catalogue, StageAxis, StageId, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Store } from "../../session/store.js" */

import { h } from "../dom.js";
import { createGate } from "./gate.js";
import { createStage } from "./stage.js";

/**
 * @param {{ catalogue: Catalogue, store: Store, edits: Edits, client: Client }} wiring
 */
export function createLightPath({ catalogue, store, edits, client }) {
  /** @param {StageId} id */
  function toggleStage(id) {
    const { openStage, panel } = store.get();
    store.set({ openStage: openStage === id && panel === "controls" ? null : id, panel: "controls" });
  }

  /** @param {string} step `stage.step` */
  function toggleStep(step) {
    const open = store.get().openSteps;
    store.set({ openSteps: open.includes(step) ? open.filter((it) => it !== step) : [...open, step] });
  }

  /** What arrives at the curves: their histogram is of it, as their axis is. */
  const curveInput = h("canvas", { width: 3, height: 2 });
  const parts = catalogue.stages.map((stage, i) => {
    const gate = createGate({ stage, axis: /** @type {StageAxis} */ (catalogue.judging.axes[i]), onopen: () => toggleStage(stage.id) });
    const view = createStage({
      catalogue,
      stage,
      id: gate.panelId,
      curveInput,
      edits,
      client,
      onclose: () => toggleStage(stage.id),
      onstep: (step) => toggleStep(`${stage.id}.${step}`),
      onsingle: (single) => store.set({ single }),
    });
    return { id: stage.id, gate, view };
  });

  return {
    el: h("ol", { class: "stages" }, ...parts.map(({ gate }) => gate.el)),
    panel: h("div", { class: "panel-stages" }, ...parts.map(({ view }) => view.el)),
    /** Where each stage's live picture goes. */
    thumbs: new Map(parts.map(({ id, gate }) => [id, gate.thumb])),
    /** Pictures of what arrives at a step, wanted while its stage is open. */
    inputs: [{ stage: /** @type {const} */ ("scan"), before: "curves", canvas: curveInput }],
    /** @param {State} state */
    update(state) {
      for (const { gate, view } of parts) {
        gate.update(state);
        view.update(state);
      }
    },
  };
}
