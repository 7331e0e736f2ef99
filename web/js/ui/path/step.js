/** One step of a stage: its head with name, state and switch, and its controls, unfolded. */

/** @import { Catalogue, CurveControl, NumberControl, StageId, State, StepEntry, StepSettings } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Row } from "../controls/row.js" */

import { padOf } from "../../pure/pads.js";
import { isOn } from "../../pure/settings.js";
import { stepSummary } from "../../pure/summary.js";
import { createContrastPlot } from "../controls/contrast-plot.js";
import { createCurveEditor } from "../controls/curve-editor.js";
import { createPad } from "../controls/pad.js";
import { createPivotWords } from "../controls/pivot-words.js";
import { createRow } from "../controls/row.js";
import { createScanScale } from "../controls/scan-scale.js";
import { createSwitch } from "../controls/switch.js";
import { createWheel } from "../controls/wheel.js";
import { attribute, h, newId, text } from "../dom.js";
import { icon } from "../icons.js";

/** @typedef {ReturnType<typeof createStep>} StepView */
/** A row, and the controls that it stands for. @typedef {Row & { of: string[] }} PlacedRow */

/**
 * @param {{ catalogue: Catalogue, stage: StageId, step: StepEntry, curveInput: HTMLCanvasElement, edits: Edits, client: Client, ontoggle: () => void }} wiring
 */
export function createStep({ catalogue, stage, step, curveInput, edits, client, ontoggle }) {
  const place = (/** @type {string} */ control) => ({ stage, step: step.id, control });
  /** @type {PlacedRow[] | null} */
  let rows = null;
  /** @type {Set<string>} */
  let changed = new Set();
  /** The one control that is shown on a phone. @type {string | null} */
  let one = null;
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
    body.append(...made.map((row) => row.el), h("div", { class: "step-about" }, h("p", { class: "step-help" }, step.help), ...texture));
    return made;
  }

  /** Tells the rows apart that have been changed, and the one that stands alone on a phone. */
  function mark() {
    for (const row of rows ?? []) {
      attribute(row.el, "data-came", !row.of.some((id) => changed.has(id)));
      attribute(row.el, "data-one", one !== null && row.of.includes(one));
    }
    attribute(el, "data-one", one !== null);
    attribute(el, "data-changed", changed.size > 0);
    attribute(head, "data-one", one !== null && one === step.controls[0]?.id);
  }

  /** @returns {PlacedRow[]} */
  function controlRows() {
    const curves = /** @type {CurveControl[]} */ (step.controls.filter((it) => it.kind === "curve"));
    const made = step.controls.flatMap((/** @returns {PlacedRow[]} */ (control) => {
      if (control.kind === "curve") return [];
      const row = createRow(control, place(control.id), edits);
      const spoken = scale && control.kind === "number" && control.id === "pivot";
      const of = [control.id];
      return spoken ? [{ ...row, of }, { ...createPivotWords(control, row.el, scale), of }] : [{ ...row, of }];
    }));
    const pad = padOf(step.id);
    if (pad?.kind === "wheel") {
      for (const row of made) row.el.setAttribute("data-drawn", "");
      made.unshift(createWheel(pad, step, place, edits));
    } else if (pad) made.unshift(createPad(pad, step, place, edits));
    if (curves.length > 0) made.push({ ...createCurveEditor(curves, place, edits, client, curveInput, scale), of: curves.map(({ id }) => id) });
    if (stage === "scan" && step.id === "contrast") made.unshift({ ...createContrastPlot(client), of: step.controls.map(({ id }) => id) });
    made.push({ ...createRow(amountControl(catalogue), place("amount"), edits), of: ["amount"] });
    return made;
  }

  /** @type {StepSettings | null} */
  let shown = null;
  let shownOpen = false;

  return {
    el,
    /** @param {string[]} ids controls that have been changed: they are shown although the step is folded */
    arrange(ids) {
      changed = new Set(ids);
      mark();
    },
    /** @param {string | null} control the only one that is shown on a phone */
    only(control) {
      one = control;
      mark();
    },
    /**
     * @param {StepSettings} settings
     * @param {boolean} whole with the controls that are as they came
     * @param {State} state
     */
    update(settings, whole, state) {
      const open = whole || changed.size > 0;
      attribute(el, "data-whole", whole);
      attribute(button, "aria-expanded", whole ? "true" : "false");
      if (open) scale?.update(state);
      if (settings === shown && open === shownOpen) return;
      shown = settings;
      shownOpen = open;
      const on = isOn(settings, step);
      text(summary, stepSummary(step, settings));
      toggle.update(on);
      attribute(el, "data-off", !on);
      body.hidden = !open;
      if (!open || !state.catalogue) return;
      if (!rows) {
        rows = build();
        mark();
      }
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
