/**
 * A number that can be typed, or a sum: Enter takes it, Escape drops it, arrow keys step it. What is
 * typed next takes the place of what stands there.
 */

/** @import { NumberControl } from "../../../types.js" */

import { parse } from "../../pure/arithmetic.js";
import { finer, format, tidy, unitSign } from "../../pure/scale.js";
import { h } from "../dom.js";

/**
 * @param {NumberControl} control
 * @param {string} label
 * @param {(value: number) => void} onvalue
 */
export function createNumberField(control, label, onvalue) {
  let value = control.default;
  /** Whether something has been typed that is not taken yet. */
  let typing = false;

  const input = h("input", {
    class: "number",
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    "aria-label": `${label}, ${spokenUnit(control)}`,
    oninput: () => (typing = true),
    onchange: take,
    onblur: drop,
    onfocus: () => input.select(),
    onmousedown,
    onkeydown,
  });
  const sign = unitSign(control.unit);
  const el = h("span", { class: "quantity" }, input, h("span", { class: "unit" }, sign === "share" ? "" : sign));

  /** @param {MouseEvent} event */
  function onmousedown(event) {
    // The press that brings the focus would put the cursor into the number and not select it.
    if (document.activeElement === input || event.button !== 0) return;
    event.preventDefault();
    input.focus();
  }

  function take() {
    const typed = typing ? parse(input.value, value) : null;
    if (typed !== null) change(tidy(control, typed));
    drop();
  }

  /** Shows what holds, in place of what was typed. */
  function drop() {
    typing = false;
    show();
  }

  /** @param {number} next */
  function change(next) {
    if (next === value) return;
    value = next;
    onvalue(next);
  }

  /** @param {number} steps @param {NumberControl} by */
  function step(steps, by) {
    change(tidy(by, value + steps * by.step));
    drop();
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const by = event.shiftKey ? finer(control) : control;
    if (event.key === "Enter") take();
    else if (event.key === "Escape") drop();
    else if (event.key === "ArrowUp") step(1, by);
    else if (event.key === "ArrowDown") step(-1, by);
    else if (event.key === "PageUp") step(10, control);
    else if (event.key === "PageDown") step(-10, control);
    else return;
    event.preventDefault();
    input.select();
  }

  function show() {
    const text = format(control, value);
    if (input.value === text) return;
    input.value = text;
    if (document.activeElement === input) input.select();
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
      if (!typing) show();
    },
  };
}

/** @param {NumberControl} control */
function spokenUnit({ unit, min, max }) {
  if (unit === "share") return `number from ${min} to ${max}`;
  return unit === "" ? "number" : `number in ${unit}`;
}
