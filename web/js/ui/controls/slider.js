/**
 * A slider with its neutral mark: the line reaches from neutral to the value. Ten times finer with
 * Shift, or with the finger well above or below it; turned by the wheel where it has the focus; put back by a double click.
 */

/** @import { NumberControl } from "../../../types.js" */

import { finer, fromPosition, tidy, toPosition } from "../../pure/scale.js";
import { spoken } from "../../pure/summary.js";
import { attribute, h } from "../dom.js";

/** Steps of the slider's own grid: finer than any screen. */
const FINE = 10000;
/** How far the wheel turns for one step, in px, and what a line of it is. */
const WHEEL_STEP = 90;
const WHEEL_LINE = 33;
/** How far from the slider a finger is finer, in px. */
const AWAY = 60;
/** When the wheel is taken to have stopped, in ms. */
const WHEEL_REST = 400;

/**
 * @param {NumberControl} control
 * @param {{ labelledby: string, onvalue: (value: number) => void, onrest: () => void,
 *   onreset: (moved: boolean) => void }} wiring onreset: told whether the first click has moved it
 */
export function createSlider(control, { labelledby, onvalue, onrest, onreset }) {
  let value = control.default;
  /** Where pointer and value were when the drag began, or became finer or coarser. @type {{ pointer: number, position: number, fine: boolean } | null} */
  let drag = null;
  let fine = false;
  /** What stood there before the first of several clicks. */
  let before = value;
  let turned = 0;
  let stopped = 0;

  const el = h("input", {
    class: "slider",
    type: "range",
    min: 0,
    max: FINE,
    step: 1,
    "aria-labelledby": labelledby,
    oninput,
    onchange: onrest,
    onpointerdown: (/** @type {PointerEvent} */ event) => {
      drag = null;
      fine = event.shiftKey;
    },
    onpointermove: (/** @type {PointerEvent} */ event) => (fine = event.shiftKey || isAway(event)),
    onpointerup: release,
    onpointercancel: release,
    onmousedown,
    onkeydown,
    onkeyup: onrest,
    onwheel,
    ondblclick: () => onreset(value !== before),
  });
  el.style.setProperty("--neutral", String(toPosition(control, control.neutral)));

  /** @param {PointerEvent} event */
  function isAway({ pointerType, clientY }) {
    if (pointerType === "mouse") return false;
    const { top, bottom } = el.getBoundingClientRect();
    return clientY < top - AWAY || clientY > bottom + AWAY;
  }

  /** @param {MouseEvent} event */
  function onmousedown(event) {
    // The second press of a double click moves nothing.
    if (event.detail > 1) event.preventDefault();
    else before = value;
  }

  function release() {
    drag = null;
    onrest();
  }

  function oninput() {
    const pointer = el.valueAsNumber / FINE;
    if (drag?.fine !== fine) {
      // A press goes to its place, unless it is a fine one.
      const position = drag || fine ? toPosition(control, value) : pointer;
      drag = { pointer, position, fine };
    }
    const moved = drag.position + (pointer - drag.pointer) * (fine ? 0.1 : 1);
    const next = fromPosition(fine ? finer(control) : control, Math.min(1, Math.max(0, moved)));
    if (next !== value) onvalue(next);
    else show();
  }

  /** @param {number} steps @param {NumberControl} by */
  const stepped = (steps, by) => tidy(by, value + steps * by.step);

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = target(event.key, event.shiftKey ? finer(control) : control);
    if (next === "reset") onreset(false);
    else if (next === null) return;
    else if (next !== value) onvalue(next);
    event.preventDefault();
  }

  /**
   * @param {string} key
   * @param {NumberControl} by
   * @returns {number | "reset" | null}
   */
  function target(key, by) {
    switch (key) {
      case "ArrowRight":
      case "ArrowUp":
        return stepped(1, by);
      case "ArrowLeft":
      case "ArrowDown":
        return stepped(-1, by);
      case "PageUp":
        return stepped(10, control);
      case "PageDown":
        return stepped(-10, control);
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

  /** @param {WheelEvent} event */
  function onwheel(event) {
    if (document.activeElement !== el || el.disabled || event.ctrlKey) return;
    event.preventDefault();
    // With Shift some browsers turn the wheel sideways.
    const turn = -(event.deltaY || event.deltaX) * (event.deltaMode === event.DOM_DELTA_LINE ? WHEEL_LINE : 1);
    turned = Math.sign(turn) === Math.sign(turned) ? turned + turn : turn;
    const steps = Math.trunc(turned / WHEEL_STEP);
    if (steps === 0) return;
    turned -= steps * WHEEL_STEP;
    onvalue(stepped(steps, event.shiftKey ? finer(control) : control));
    clearTimeout(stopped);
    stopped = setTimeout(onrest, WHEEL_REST);
  }

  function show() {
    const position = toPosition(control, value);
    const neutral = toPosition(control, control.neutral);
    el.value = String(Math.round(position * FINE));
    el.style.setProperty("--from", String(Math.min(position, neutral)));
    el.style.setProperty("--to", String(Math.max(position, neutral)));
    attribute(el, "data-moved", value !== control.default);
    attribute(el, "aria-valuetext", spoken(control, value));
  }

  return {
    el,
    /**
     * @param {number} next
     * @param {boolean} off
     */
    update(next, off) {
      value = next;
      el.disabled = off;
      show();
    },
  };
}
