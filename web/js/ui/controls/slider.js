/** A slider with its neutral mark: the lit part reaches from neutral to the value. */

/** @import { NumberControl } from "../../../types.js" */

import { fromPosition, round, toPosition } from "../../pure/scale.js";
import { spoken } from "../../pure/summary.js";
import { attribute, h } from "../dom.js";

/** Steps of the slider's own grid: finer than any screen. */
const FINE = 10000;

/**
 * @param {NumberControl} control
 * @param {{ labelledby: string, onvalue: (value: number) => void, onrest: () => void, onreset: () => void }} wiring
 */
export function createSlider(control, { labelledby, onvalue, onrest, onreset }) {
  let value = control.default;

  const el = h("input", {
    class: "slider",
    type: "range",
    min: 0,
    max: FINE,
    step: 1,
    "aria-labelledby": labelledby,
    oninput: () => onvalue(fromPosition(control, el.valueAsNumber / FINE)),
    onchange: onrest,
    onkeydown,
    onkeyup: onrest,
    ondblclick: onreset,
  });
  el.style.setProperty("--neutral", String(toPosition(control, control.neutral)));

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = target(event.key, event.shiftKey ? 10 : 1);
    if (next === "reset") onreset();
    else if (next === null) return;
    else if (next !== value) onvalue(next);
    event.preventDefault();
  }

  /**
   * @param {string} key
   * @param {number} times
   * @returns {number | "reset" | null}
   */
  function target(key, times) {
    const by = (/** @type {number} */ steps) => round(control, value + steps * control.step);
    switch (key) {
      case "ArrowRight":
      case "ArrowUp":
        return by(times);
      case "ArrowLeft":
      case "ArrowDown":
        return by(-times);
      case "PageUp":
        return by(10);
      case "PageDown":
        return by(-10);
      case "Home":
        return control.min;
      case "End":
        return control.max;
      case "Backspace":
      case "Delete":
        return "reset";
      default:
        return null;
    }
  }

  return {
    el,
    /**
     * @param {number} next
     * @param {boolean} off
     */
    update(next, off) {
      value = next;
      const position = toPosition(control, next);
      const neutral = toPosition(control, control.neutral);
      el.disabled = off;
      el.value = String(Math.round(position * FINE));
      el.style.setProperty("--from", String(Math.min(position, neutral)));
      el.style.setProperty("--to", String(Math.max(position, neutral)));
      attribute(el, "data-moved", Math.abs(position - neutral) > 1e-6);
      attribute(el, "aria-valuetext", spoken(control, next));
    },
  };
}
