/**
 * Pan, pinch, wheel, hold and keys on the picture pane, and the wipe by its grip. Only the grip moves
 * the wipe: a tap, a pan or a pinch never does.
 */

/** @import { Size, View } from "../../../types.js" */
/** @import { Picture } from "./picture.js" */

import { panned, scaleOf, zoomed } from "../../pure/viewport.js";

/** How long a press rests before it shows the picture as it was, in ms, and how far it may slip, in px. */
const HOLD = 350;
const SLIP = 8;

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
  let mode = /** @type {"none" | "pan" | "pinch"} */ ("none");
  let holding = 0;
  const { at } = picture;

  /** @param {boolean} on */
  function hold(on) {
    clearTimeout(holding);
    picture.hold(on);
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
    if (event.button !== 0 || /** @type {Element} */ (event.target).closest("select, button, a, .wipe")) return;
    down.set(event.pointerId, at(event));
    pane.setPointerCapture(event.pointerId);
    mode = down.size > 1 ? "pinch" : "pan";
    hold(false);
    if (mode === "pan") holding = setTimeout(hold, HOLD, true);
  });

  pane.addEventListener("pointermove", (event) => {
    const point = at(event);
    onpoint(point.x, point.y);
    const before = down.get(event.pointerId);
    const whole = size();
    if (!before || !whole) return;
    if (distance(point, before) > SLIP || view().scale !== "fit") clearTimeout(holding);
    if (view().scale === "fit" && mode === "pan") return;
    if (mode === "pan") onview(panned(view(), point.x - before.x, point.y - before.y, whole, picture.paneSize()));
    else if (mode === "pinch") pinch(event.pointerId, before, point, whole);
    down.set(event.pointerId, point);
  });

  addGrip(picture, { view, onview });

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
    hold(false);
    if (down.size === 0) mode = "none";
  }
  pane.addEventListener("pointerup", lift);
  pane.addEventListener("pointercancel", lift);

  pane.addEventListener("dblclick", (event) => {
    if (/** @type {Element} */ (event.target).closest("select, button, .wipe")) return;
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
    if (!whole || event.ctrlKey || event.metaKey || event.target !== pane) return;
    const wipe = event.altKey ? { ArrowLeft: -0.01, ArrowRight: 0.01 }[event.key] : undefined;
    if (wipe) {
      event.preventDefault();
      onview({ ...view(), wipe: Math.min(1, Math.max(0, view().wipe + wipe * (event.shiftKey ? 10 : 1))) });
    }
    if (event.altKey) return;
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
 * A second finger ends the drag and puts the wipe back.
 * @param {Picture} picture
 * @param {Pick<Wiring, "view" | "onview">} wiring
 */
function addGrip(picture, { view, onview }) {
  const { grip, opening } = picture;
  /** @type {{ pointer: number, from: number, offset: number } | null} */
  let drag = null;

  grip.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.preventDefault();
    grip.focus();
    if (drag) return stop(true);
    grip.setPointerCapture(event.pointerId);
    const box = grip.getBoundingClientRect();
    drag = { pointer: event.pointerId, from: view().wipe, offset: event.clientX - (box.left + box.width / 2) };
  });
  grip.addEventListener("pointermove", (event) => {
    if (event.pointerId !== drag?.pointer) return;
    const box = opening.getBoundingClientRect();
    onview({ ...view(), wipe: Math.min(1, Math.max(0, (event.clientX - drag.offset - box.left) / box.width)) });
  });

  /** @param {boolean} back */
  function stop(back) {
    if (drag && back) onview({ ...view(), wipe: drag.from });
    drag = null;
  }
  grip.addEventListener("pointerup", () => stop(false));
  grip.addEventListener("pointercancel", () => stop(true));
  picture.el.addEventListener("pointerdown", () => stop(true));
}

/**
 * @param {{ x: number, y: number }} a
 * @param {{ x: number, y: number }} b
 */
function distance(a, b) {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
