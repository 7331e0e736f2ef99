/** One gate of the light path: the stage's live picture between two pieces of beam, its name, its marks. */

/** @import { StageAxis, StageEntry, StageId, State } from "../../../types.js" */

import { changedCount } from "../../pure/changed.js";
import { reading } from "../../pure/readings.js";
import { isOn, stageSettings, stepSettings } from "../../pure/settings.js";
import { attribute, h, newId, text } from "../dom.js";

/** What the light is made of as it leaves each stage: the look of the beam behind its gate. */
const LEAVES_AS = /** @type {Record<StageId, string>} */ ({
  intake: "cone",
  lens: "focus",
  negative: "layers",
  scan: "code",
  print: "steps",
  screen: "dots",
});
/** Up to so many changes have a mark each. */
const MARKS = 8;

/**
 * @param {{ stage: StageEntry, axis: StageAxis, onopen: () => void }} wiring axis: of the numbers that it shows of one pixel
 */
export function createGate({ stage, axis, onopen }) {
  const panelId = newId();
  const thumb = h("canvas", { class: "thumb", width: 3, height: 2, "aria-hidden": "true" });
  const marks = h("span", { class: "marks", "aria-hidden": "true" });
  const values = h("span", { class: "gate-values", "aria-hidden": "true", hidden: true });
  const said = h("span", { class: "unseen" });
  const button = h(
    "button",
    { class: "stage-head", type: "button", "aria-controls": panelId, onclick: onopen },
    h("span", { class: "gate-window" }, thumb),
    h("span", { class: "gate-words" }, h("span", { class: "stage-label" }, stage.label), said, marks, values),
  );
  const el = h(
    "li",
    { class: "gate", "data-stage": stage.id },
    h("span", { class: "beam beam-in", "aria-hidden": "true" }),
    button,
    h("span", { class: `beam beam-${LEAVES_AS[stage.id]}`, "aria-hidden": "true" }),
  );
  let shown = -1;

  /** @param {number} count */
  function mark(count) {
    if (count === shown) return;
    shown = count;
    attribute(marks, "data-count", count);
    text(said, count === 0 ? "" : `, ${count} changed`);
    attribute(marks, "data-many", count > MARKS);
    marks.replaceChildren(...(count > MARKS ? [h("i", {})] : Array.from({ length: count }, () => h("i", {}))));
  }

  return {
    el,
    thumb,
    panelId,
    /** @param {State} state */
    update({ history, current, reel, openStage, panel, trace }) {
      const settings = stageSettings(history.present, stage.id, current);
      const came = stage.id === "intake" ? (reel.find(({ id }) => id === current)?.initial ?? {}) : {};
      mark(changedCount(stage, settings, came));
      const row = panel === "instruments" ? trace?.find((it) => it.stage === stage.id) : undefined;
      attribute(values, "hidden", row === undefined);
      if (row) text(values, row.readings.map((value) => reading(value, axis)).join(" "));
      const open = openStage === stage.id && panel === "controls";
      if (open && button.getAttribute("aria-expanded") === "false") button.scrollIntoView({ block: "nearest", inline: "nearest" });
      attribute(button, "aria-expanded", open ? "true" : "false");
      attribute(el, "data-open", open);
      attribute(el, "data-out", !stage.steps.some((step) => isOn(stepSettings(settings, step.id), step)));
    },
  };
}
