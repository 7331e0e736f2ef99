/** One of several: side by side when they fit, else a menu. */

/** @import { ChoiceControl } from "../../../types.js" */

import { h, newId } from "../dom.js";

/** Letters that fit side by side. */
const ROOM = 34;

/**
 * @param {Pick<ChoiceControl, "options">} control
 * @param {{ labelledby: string, onvalue: (id: string) => void }} wiring
 */
export function createChoice(control, wiring) {
  const letters = control.options.reduce((sum, option) => sum + option.label.length + 3, 0);
  return letters <= ROOM ? sideBySide(control, wiring) : menu(control, wiring);
}

/**
 * @param {Pick<ChoiceControl, "options">} control
 * @param {{ labelledby: string, onvalue: (id: string) => void }} wiring
 */
function sideBySide(control, { labelledby, onvalue }) {
  const name = newId();
  const inputs = control.options.map((option) =>
    h("input", { type: "radio", name, value: option.id, onchange: () => onvalue(option.id) }),
  );
  const labels = control.options.map((option, i) =>
    h("label", { class: "segment" }, /** @type {Node} */ (inputs[i]), h("span", {}, option.label)),
  );
  const el = h("span", { class: "segments", role: "radiogroup", "aria-labelledby": labelledby }, ...labels);
  return {
    el,
    /**
     * @param {string} id
     * @param {boolean} off
     */
    update(id, off) {
      for (const input of inputs) {
        input.checked = input.value === id;
        input.disabled = off;
      }
    },
  };
}

/**
 * @param {Pick<ChoiceControl, "options">} control
 * @param {{ labelledby: string, onvalue: (id: string) => void }} wiring
 */
function menu(control, { labelledby, onvalue }) {
  const options = control.options.map((option) => h("option", { value: option.id }, option.label));
  const el = h("select", { class: "menu", "aria-labelledby": labelledby, onchange: () => onvalue(el.value) }, ...options);
  return {
    el,
    /**
     * @param {string} id
     * @param {boolean} off
     */
    update(id, off) {
      el.value = id;
      el.disabled = off;
    },
  };
}
