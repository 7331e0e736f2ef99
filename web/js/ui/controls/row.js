/** One control with its label, help and reset. */

/** @import { ControlEntry, NumberControl, Place, StepSettings, Value } from "../../../types.js" */
/** @import { Edits } from "../../session/edits.js" */

import { railOf } from "../../pure/rails.js";
import { same, valueOf } from "../../pure/settings.js";
import { attribute, h, newId } from "../dom.js";
import { icon } from "../icons.js";
import { createChoice } from "./choice.js";
import { createNumberField } from "./number-field.js";
import { createSlider } from "./slider.js";
import { createSwitch } from "./switch.js";

/** @typedef {{ el: HTMLElement, update: (settings: StepSettings, off: boolean) => void }} Row */

/**
 * @param {Exclude<ControlEntry, { kind: "curve" }>} control
 * @param {Place} place
 * @param {Edits} edits
 * @returns {Row}
 */
export function createRow(control, place, edits) {
  const label = newId();
  const help = h("p", { class: "help", hidden: true, id: newId() }, control.help);
  const name = h(
    "button",
    {
      class: "row-label",
      type: "button",
      id: label,
      title: control.help,
      "aria-expanded": "false",
      "aria-controls": help.id,
      onclick() {
        help.hidden = !help.hidden;
        attribute(name, "aria-expanded", help.hidden ? "false" : "true");
      },
    },
    control.label,
  );
  const reset = h(
    "button",
    { class: "reset", type: "button", "aria-label": `Reset ${control.label}`, title: "Reset", onclick: () => edits.reset(place) },
    icon("reset"),
  );
  const field = createField(control, place, edits, label);
  const el = h("div", { class: `row row-${control.kind}`, "data-control": control.id }, name, ...field.parts, reset, help);
  return {
    el,
    update(settings, off) {
      const value = valueOf(settings, control);
      field.update(value, off);
      attribute(el, "data-off", off);
      // Not `hidden`: the row must not move under the finger.
      attribute(el, "data-moved", !same(value, control.default));
      attribute(reset, "data-idle", same(value, control.default));
      reset.disabled = same(value, control.default);
    },
  };
}

/**
 * @param {Exclude<ControlEntry, { kind: "curve" }>} control
 * @param {Place} place
 * @param {Edits} edits
 * @param {string} labelledby
 * @returns {{ parts: HTMLElement[], update: (value: Value, off: boolean) => void }}
 */
function createField(control, place, edits, labelledby) {
  switch (control.kind) {
    case "number":
      return numberParts(control, place, edits, labelledby);
    case "choice": {
      const choice = createChoice(control, { labelledby, onvalue: (id) => edits.setValue(place, id) });
      return { parts: [choice.el], update: (value, off) => choice.update(String(value), off) };
    }
    case "switch": {
      const toggle = createSwitch(control.label, (on) => edits.setValue(place, on));
      return { parts: [toggle.el], update: (value) => toggle.update(value === true) };
    }
  }
}

/**
 * @param {NumberControl} control
 * @param {Place} place
 * @param {Edits} edits
 * @param {string} labelledby
 */
function numberParts(control, place, edits, labelledby) {
  const rail = railOf(place, control);
  const slider = createSlider(control, {
    labelledby,
    onvalue: (value) => edits.setValue(place, value, true),
    onrest: edits.rest,
    onreset(moved) {
      // The click that moved it and the one that puts it back are one gesture.
      if (moved) edits.undo();
      edits.reset(place);
    },
  });
  if (rail) slider.el.classList.add(`rail-${rail}`);
  const number = createNumberField(control, control.label, (value) => edits.setValue(place, value));
  return {
    parts: [slider.el, number.el],
    /**
     * @param {Value} value
     * @param {boolean} off
     */
    update(value, off) {
      slider.update(Number(value), off);
      number.update(Number(value), off);
    },
  };
}
