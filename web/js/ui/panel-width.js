/** The panel's edge, by which it is made wider or narrower. */

import { attribute, h } from "./dom.js";

const [LEAST, USUAL, MOST] = [236, 260, 460];
const KEPT = "lookwright.panel-width";

/**
 * @param {HTMLElement} desk whose `--panel` it sets
 * @param {() => void} onwidth
 */
export function createPanelEdge(desk, onwidth) {
  let width = recalled();
  const el = h("div", {
    class: "panel-edge",
    role: "separator",
    tabindex: 0,
    "aria-label": "Width of the panel",
    "aria-orientation": "vertical",
    "aria-valuemin": LEAST,
    "aria-valuemax": MOST,
    title: "Drag to make the panel wider; double click for its usual width",
    onpointerdown,
    ondblclick: () => set(USUAL),
    onkeydown,
  });

  /** @param {number} next */
  function set(next) {
    width = Math.round(Math.min(MOST, Math.max(LEAST, next)));
    desk.style.setProperty("--panel-set", `${width}px`);
    attribute(el, "aria-valuenow", width);
    try {
      localStorage.setItem(KEPT, String(width));
    } catch {
      // Then it is the usual one the next time.
    }
    onwidth();
  }

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    if (event.button !== 0) return;
    event.preventDefault();
    el.setPointerCapture(event.pointerId);
    const [from, start] = [event.clientX, width];
    const stop = new AbortController();
    el.addEventListener("pointermove", ({ clientX }) => set(start + clientX - from), { signal: stop.signal });
    for (const end of ["pointerup", "pointercancel"]) el.addEventListener(end, () => stop.abort(), { signal: stop.signal });
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const next = { ArrowLeft: width - 10, ArrowRight: width + 10, Home: LEAST, End: MOST, Delete: USUAL }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    set(next);
  }

  if (width !== USUAL) set(width);
  attribute(el, "aria-valuenow", width);
  return el;
}

function recalled() {
  try {
    return Number(localStorage.getItem(KEPT)) || USUAL;
  } catch {
    return USUAL;
  }
}
