/** A switch: on or off. */

import { h } from "../dom.js";

/**
 * @param {string} label said, not shown
 * @param {(on: boolean) => void} onchange
 */
export function createSwitch(label, onchange) {
  const input = h("input", {
    type: "checkbox",
    role: "switch",
    "aria-label": label,
    onchange: () => onchange(input.checked),
  });
  const el = h("label", { class: "switch" }, input, h("span", { class: "switch-rail" }));
  return {
    el,
    /** @param {boolean} on */
    update(on) {
      if (input.checked !== on) input.checked = on;
    },
  };
}
