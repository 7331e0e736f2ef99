/** A number that can be typed: Enter takes it, Escape drops it, arrow keys step it. */

/** @import { NumberControl } from "../../../types.js" */

import { clamp, format, parse, round, unitSign } from "../../pure/scale.js";
import { h } from "../dom.js";

/**
 * @param {NumberControl} control
 * @param {string} label
 * @param {(value: number) => void} onvalue
 */
export function createNumberField(control, label, onvalue) {
  let value = control.default;

  const input = h("input", {
    class: "number",
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    "aria-label": `${label}, number${control.unit ? ` in ${control.unit}` : ""}`,
    onchange: take,
    onfocus: () => input.select(),
    onkeydown,
  });
  const sign = unitSign(control.unit);
  const el = h("span", { class: "quantity" }, input, h("span", { class: "unit" }, sign === "share" ? "" : sign));

  function take() {
    const typed = parse(input.value);
    if (typed !== null) {
      const limited = clamp(control, control.whole ? Math.round(typed) : typed);
      if (limited !== value) onvalue(limited);
    }
    show();
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.key === "Enter") take();
    else if (event.key === "Escape") show();
    else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
      const sense = event.key === "ArrowUp" ? 1 : -1;
      onvalue(round(control, value + sense * control.step * (event.shiftKey ? 10 : 1)));
      event.preventDefault();
    }
  }

  function show() {
    input.value = format(control, value);
  }

  return {
    el,
    /**
     * @param {number} next
     * @param {boolean} off
     */
    update(next, off) {
      input.disabled = off;
      value = next;
      show();
    },
  };
}
