/** One stage of the light path: beam and node, live picture, words, and its steps in place. */

/** @import { Catalogue, StageEntry, StageId, StageSettings, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */

import { isOn, stageSettings, stepSettings } from "../../pure/settings.js";
import { stageSummary } from "../../pure/summary.js";
import { createSwitch } from "../controls/switch.js";
import { attribute, h, newId, text } from "../dom.js";
import { icon } from "../icons.js";
import { createStep } from "./step.js";

/** What the light is made of as it leaves each stage: the look of the beam below its node. */
const LEAVES_AS = /** @type {Record<StageId, string>} */ ({
  intake: "light",
  lens: "focused",
  negative: "layers",
  scan: "code",
  print: "band",
  screen: "pixels",
});

/**
 * @param {{ catalogue: Catalogue, stage: StageEntry, arrivesAs: string, edits: Edits, client: Client, onopen: () => void, onstep: (step: string) => void }} wiring
 */
export function createStage({ catalogue, stage, arrivesAs, edits, client, onopen, onstep }) {
  const body = h("div", { class: "stage-body", id: newId(), role: "group", "aria-label": stage.label });
  const thumb = h("canvas", { class: "thumb", width: 3, height: 2, "aria-hidden": "true" });
  const summary = h("span", { class: "stage-summary" });
  const button = h(
    "button",
    { class: "stage-head", type: "button", "aria-controls": body.id, onclick: onopen },
    thumb,
    h("span", { class: "stage-words" }, h("span", { class: "stage-label" }, stage.label), summary),
  );
  // Intake and screen belong to the frame and the delivery: there is no picture without them.
  const switchable = stage.id !== "intake" && stage.id !== "screen";
  const toggles = switchable
    ? [0, 1].map(() => createSwitch(`${stage.label} on`, () => edits.toggleStage(stage.id)))
    : [];
  const [headSwitch, sheetSwitch] = toggles.map((toggle) => toggle.el);
  const steps = stage.steps.map((step) => ({
    entry: step,
    view: createStep({ catalogue, stage: stage.id, step, thumb, edits, client, ontoggle: () => onstep(step.id) }),
  }));
  const close = h("button", { class: "round", type: "button", "aria-label": `Close ${stage.label}`, onclick: onopen }, icon("close"));
  body.append(
    h("div", { class: "sheet-head" }, h("span", { class: "stage-label" }, stage.label), ...(sheetSwitch ? [sheetSwitch] : []), close),
    h("p", { class: "about" }, stage.about),
    ...steps.map((step) => step.view.el),
  );
  const el = h(
    "li",
    { class: "stage", "data-stage": stage.id },
    h("span", { class: `beam beam-in beam-${arrivesAs}`, "aria-hidden": "true" }),
    h("span", { class: `beam beam-out beam-${LEAVES_AS[stage.id]}`, "aria-hidden": "true" }),
    h("span", { class: "node" }, icon(stage.id)),
    h("h2", {}, button),
    ...(headSwitch ? [headSwitch] : []),
    body,
  );

  /** @type {StageSettings | null} */
  let shown = null;
  /** @type {readonly string[] | null} */
  let shownSteps = null;

  return {
    el,
    thumb,
    leavesAs: LEAVES_AS[stage.id],
    /** @param {State} state */
    update(state) {
      const settings = stageSettings(state.history.present, stage.id, state.current);
      const open = state.openStage === stage.id;
      if (open && body.hidden) requestAnimationFrame(() => button.scrollIntoView({ block: "nearest" }));
      attribute(el, "data-open", open);
      attribute(button, "aria-expanded", open ? "true" : "false");
      body.hidden = !open;
      if (settings === shown && state.openSteps === shownSteps) return;
      shown = settings;
      shownSteps = state.openSteps;
      text(summary, stageSummary(stage, settings));
      const lit = stage.steps.some((step) => isOn(stepSettings(settings, step.id), step));
      attribute(el, "data-out", !lit);
      for (const toggle of toggles) toggle.update(lit);
      for (const { entry, view } of steps) {
        const unfolded = state.openSteps.includes(`${stage.id}.${entry.id}`);
        view.update(stepSettings(settings, entry.id), unfolded, state);
      }
    },
  };
}
