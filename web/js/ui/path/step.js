/** One step of a stage: its head with name, state and switch, and its controls, unfolded. */

/** @import { Catalogue, CurveControl, NumberControl, StageId, State, StepEntry, StepSettings } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Row } from "../controls/row.js" */

import { isOn } from "../../pure/settings.js";
import { stepSummary } from "../../pure/summary.js";
import { createContrastPlot } from "../controls/contrast-plot.js";
import { createCurveEditor } from "../controls/curve-editor.js";
import { createPivotWords } from "../controls/pivot-words.js";
import { createRow } from "../controls/row.js";
import { createScanScale } from "../controls/scan-scale.js";
import { createSwitch } from "../controls/switch.js";
import { attribute, h, newId, text } from "../dom.js";
import { icon } from "../icons.js";

/**
 * @param {{ catalogue: Catalogue, stage: StageId, step: StepEntry, thumb: HTMLCanvasElement, edits: Edits, client: Client, ontoggle: () => void }} wiring
 */
export function createStep({ catalogue, stage, step, thumb, edits, client, ontoggle }) {
  const place = (/** @type {string} */ control) => ({ stage, step: step.id, control });
  /** @type {Row[] | null} */
  let rows = null;
  const speaksCode = stage === "scan" && (step.id === "contrast" || step.id === "curves");
  const scale = speaksCode ? createScanScale(step.id, client) : null;

  const body = h("div", { class: "step-body", id: newId(), hidden: true });
  const button = h(
    "button",
    { class: "step-fold", type: "button", "aria-controls": body.id, onclick: ontoggle },
    icon("fold"),
    h("span", {}, step.label),
  );
  const summary = h("span", { class: "step-summary" });
  const toggle = createSwitch(`${step.label} on`, (on) => edits.setValue(place("on"), on));
  const head = h("div", { class: "step-head" }, h("h3", {}, button), summary, toggle.el);
  const el = h("section", { class: "step", "data-step": step.id }, head, body);

  /** Made when first unfolded: a page of folded steps need not hold a hundred sliders. */
  function build() {
    const made = controlRows();
    const texture = step.texture ? [h("p", { class: "aside" }, "Texture: no table can carry it.")] : [];
    body.append(...made.map((row) => row.el), h("p", { class: "step-help" }, step.help), ...texture);
    return made;
  }

  /** @returns {Row[]} */
  function controlRows() {
    const curves = /** @type {CurveControl[]} */ (step.controls.filter((it) => it.kind === "curve"));
    const made = step.controls.flatMap((control) => {
      if (control.kind === "curve") return [];
      const row = createRow(control, place(control.id), edits);
      const spoken = scale && control.kind === "number" && control.id === "pivot";
      return spoken ? [row, createPivotWords(control, row.el, scale)] : [row];
    });
    if (curves.length > 0) made.push(createCurveEditor(curves, place, edits, client, thumb, scale));
    if (stage === "scan" && step.id === "contrast") made.push(createContrastPlot(client));
    made.push(createRow(amountControl(catalogue), place("amount"), edits));
    return made;
  }

  /** @type {StepSettings | null} */
  let shown = null;
  let shownOpen = false;

  return {
    el,
    /**
     * @param {StepSettings} settings
     * @param {boolean} open
     * @param {State} state
     */
    update(settings, open, state) {
      if (open) scale?.update(state);
      if (settings === shown && open === shownOpen) return;
      shown = settings;
      shownOpen = open;
      const on = isOn(settings, step);
      text(summary, stepSummary(step, settings));
      toggle.update(on);
      attribute(el, "data-off", !on);
      attribute(button, "aria-expanded", open ? "true" : "false");
      body.hidden = !open;
      if (!open || !state.catalogue) return;
      rows ??= build();
      for (const row of rows) row.update(settings, !on);
    },
  };
}

/**
 * @param {Catalogue} catalogue
 * @returns {NumberControl} a step's amount, as a control like the others
 */
function amountControl({ amount }) {
  return {
    kind: "number",
    id: "amount",
    label: "Amount",
    help: "How much of this step is mixed in: 0 is none, 1 as set, 2 exaggerated.",
    unit: "x",
    min: amount.min,
    max: amount.max,
    step: 0.01,
    whole: false,
    scale: "linear",
    default: amount.default,
    neutral: amount.default,
  };
}
