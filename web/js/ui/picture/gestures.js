/** Wipe, pan, pinch, wheel and keys on the picture pane. */

/** @import { Size, View } from "../../../types.js" */
/** @import { Picture } from "./picture.js" */

import { panned, scaleOf, zoomed } from "../../pure/viewport.js";

/** How near to the wipe's line a press takes hold of it, in CSS pixels. */
const NEAR = 22;

/**
 * @typedef {object} Wiring
 * @property {() => View} view
 * @property {() => Size | null} size
 * @property {(view: View) => void} onview
 * @property {(x: number, y: number) => void} onpoint the pointer is over this place of the pane
 */

/**
 * @param {Picture} picture
 * @param {Wiring} wiring
 */
export function addGestures(picture, { view, size, onview, onpoint }) {
  const pane = picture.el;
  /** @type {Map<number, { x: number, y: number }>} */
  const down = new Map();
  let mode = /** @type {"none" | "wipe" | "pan" | "pinch"} */ ("none");

  /** @param {PointerEvent | WheelEvent | MouseEvent} event */
  function at(event) {
    const box = pane.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  /** @param {number} clientX */
  function wipeTo(clientX) {
    const box = picture.opening.getBoundingClientRect();
    const wipe = Math.min(1, Math.max(0, (clientX - box.left) / box.width));
    onview({ ...view(), wipe });
  }

  /**
   * @param {number} scale
   * @param {{ x: number, y: number }} point
   */
  function zoomTo(scale, point) {
    const whole = size();
    if (whole) onview(zoomed(view(), scale, point, whole, picture.paneSize(), picture.density()));
  }

  pane.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || /** @type {Element} */ (event.target).closest("select, button, a")) return;
    down.set(event.pointerId, at(event));
    pane.setPointerCapture(event.pointerId);
    const line = picture.divider.getBoundingClientRect();
    const held = Math.abs(event.clientX - (line.left + line.width / 2)) < NEAR;
    if (down.size > 1) mode = "pinch";
    else if (held || view().scale === "fit") {
      mode = "wipe";
      if (!held) wipeTo(event.clientX);
    } else mode = "pan";
  });

  pane.addEventListener("pointermove", (event) => {
    const point = at(event);
    onpoint(point.x, point.y);
    const before = down.get(event.pointerId);
    const whole = size();
    if (!before || !whole) return;
    if (mode === "wipe") wipeTo(event.clientX);
    else if (mode === "pan") onview(panned(view(), point.x - before.x, point.y - before.y, whole, picture.paneSize()));
    else if (mode === "pinch") pinch(event.pointerId, before, point, whole);
    down.set(event.pointerId, point);
  });

  /**
   * @param {number} id
   * @param {{ x: number, y: number }} before
   * @param {{ x: number, y: number }} point
   * @param {Size} whole
   */
  function pinch(id, before, point, whole) {
    const other = [...down].find(([key]) => key !== id)?.[1];
    if (!other) return;
    const grown = distance(point, other) / Math.max(1, distance(before, other));
    const middle = { x: (point.x + other.x) / 2, y: (point.y + other.y) / 2 };
    zoomTo(scaleOf(view(), whole, picture.paneSize()) * grown, middle);
    onview(panned(view(), (point.x - before.x) / 2, (point.y - before.y) / 2, whole, picture.paneSize()));
  }

  /** @param {PointerEvent} event */
  function lift(event) {
    down.delete(event.pointerId);
    if (down.size === 0) mode = "none";
  }
  pane.addEventListener("pointerup", lift);
  pane.addEventListener("pointercancel", lift);

  pane.addEventListener("dblclick", (event) => {
    if (/** @type {Element} */ (event.target).closest("select, button")) return;
    zoomTo(view().scale === "fit" ? 1 / picture.density() : 0, at(event));
  });

  pane.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const whole = size();
      if (!whole) return;
      const speed = event.ctrlKey ? 0.01 : 0.0018;
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 20 : 1;
      zoomTo(scaleOf(view(), whole, picture.paneSize()) * Math.exp(-event.deltaY * lines * speed), at(event));
    },
    { passive: false },
  );

  pane.addEventListener("keydown", (event) => {
    const whole = size();
    if (!whole || event.ctrlKey || event.metaKey || event.altKey || event.target !== pane) return;
    const paneSize = picture.paneSize();
    const middle = { x: paneSize.width / 2, y: paneSize.height / 2 };
    const now = scaleOf(view(), whole, paneSize);
    const scale = { "+": now * 1.25, "=": now * 1.25, "-": now / 1.25 }[event.key];
    const by = event.shiftKey ? 200 : 40;
    const pan = { ArrowLeft: [by, 0], ArrowRight: [-by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[event.key];
    if (scale !== undefined) zoomTo(scale, middle);
    else if (pan) onview(panned(view(), pan[0] ?? 0, pan[1] ?? 0, whole, paneSize));
    else return;
    event.preventDefault();
  });
}

/**
 * @param {{ x: number, y: number }} a
 * @param {{ x: number, y: number }} b
 */
function distance(a, b) {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
