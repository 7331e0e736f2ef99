/** The handles of a curve: moved by pointer or arrow keys, taken away by Delete or double click. */

/** @import { CurvePoints } from "../../../types.js" */

import { attribute, h } from "../dom.js";

/**
 * @typedef {object} Wiring
 * @property {(index: number, x: number, y: number, dragging: boolean) => void} onmove
 * @property {(x: number, y: number) => number | null} onadd gives the new point's index
 * @property {(index: number) => void} onremove
 * @property {() => void} onrest
 * @property {(x: number, y: number) => string} said what a point stands for
 */

/** @param {Wiring} wiring */
export function createCurvePoints({ onmove, onadd, onremove, onrest, said }) {
  /** @type {CurvePoints} */
  let points = [];
  /** @type {HTMLButtonElement[]} */
  let handles = [];
  let dragged = -1;
  let off = false;

  const readout = h("p", { class: "curve-readout" });
  const el = h("div", {
    class: "curve-points",
    role: "group",
    "aria-label": "Points of the curve",
    onpointerdown,
    onpointermove,
    onpointerup: stop,
    onpointercancel: stop,
  });

  /** @param {PointerEvent} event */
  function at(event) {
    const box = el.getBoundingClientRect();
    return { x: (event.clientX - box.left) / box.width, y: 1 - (event.clientY - box.top) / box.height };
  }

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    if (off || event.button !== 0) return;
    event.preventDefault();
    const { x, y } = at(event);
    const hit = handles.findIndex((handle) => handle === event.target);
    dragged = hit >= 0 ? hit : (onadd(Math.min(1, Math.max(0, x)), Math.min(1, Math.max(0, y))) ?? -1);
    if (dragged < 0) return;
    el.setPointerCapture(event.pointerId);
    focus(dragged);
  }

  /** @param {PointerEvent} event */
  function onpointermove(event) {
    if (dragged < 0) return;
    const { x, y } = at(event);
    onmove(dragged, x, y, true);
  }

  function stop() {
    if (dragged < 0) return;
    dragged = -1;
    onrest();
  }

  /**
   * @param {KeyboardEvent} event
   * @param {number} index
   */
  function onkeydown(event, index) {
    const by = event.shiftKey ? 0.05 : 0.005;
    const step = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[event.key];
    const point = points[index];
    if (!point) return;
    if (step) onmove(index, point[0] + (step[0] ?? 0), point[1] + (step[1] ?? 0), true);
    else if (event.key === "Delete" || event.key === "Backspace") {
      onremove(index);
      focus(Math.max(0, index - 1));
    } else return;
    event.preventDefault();
  }

  /** @param {number} index */
  function makeHandle(index) {
    return h("button", {
      class: "curve-point",
      type: "button",
      onkeydown: (/** @type {KeyboardEvent} */ event) => onkeydown(event, index),
      onkeyup: onrest,
      ondblclick: () => onremove(index),
      onfocus: () => read(index),
    });
  }

  /** @param {number} index */
  function read(index) {
    const point = points[index];
    readout.textContent = point ? said(...point).replace("; ", "\n") : "";
  }

  /** @param {number} index */
  function focus(index) {
    handles[index]?.focus();
  }

  return {
    el,
    readout,
    focus,
    /**
     * @param {CurvePoints} next as drawn
     * @param {boolean} nextOff
     */
    update(next, nextOff) {
      points = next;
      off = nextOff;
      while (handles.length > next.length) handles.pop()?.remove();
      while (handles.length < next.length) {
        const handle = makeHandle(handles.length);
        handles.push(handle);
        el.append(handle);
      }
      next.forEach(([x, y], i) => {
        const handle = /** @type {HTMLButtonElement} */ (handles[i]);
        handle.disabled = off;
        handle.style.setProperty("--x", String(x));
        handle.style.setProperty("--y", String(y));
        attribute(handle, "aria-label", `Point ${i + 1} of ${next.length}: ${said(x, y)}`);
        if (handle === document.activeElement) read(i);
      });
    },
  };
}
