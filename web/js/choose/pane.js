/** A pane with one rendering of a frame, or with two and a wipe between them at any angle. */

/** @import { Box, Shown, Size, View } from "../../types.js" */
/** @import { Wipe } from "../pure/looks/wipe.js" */

import { behind, gripOf, shareAt } from "../pure/looks/wipe.js";
import { panned, placed, scaleOf, zoomed } from "../pure/viewport.js";
import { attribute, h } from "../ui/dom.js";
import { READ_BACK, paint } from "../ui/picture/side.js";

/** @typedef {ReturnType<typeof createPane>} Pane */

/** By keys: parts of the way, and degrees. */
const STEP = 0.02;
const TURN = 15;

/**
 * @param {{ label: string, view: () => View, size: () => Size | null, onview: (view: View) => void,
 *   wipe?: () => Wipe, onwipe?: (wipe: Wipe) => void }} wiring
 *   size: of the frame at full size; wipe: if there are two renderings
 */
export function createPane({ label, view, size, onview, wipe, onwipe }) {
  const canvases = [h("canvas", { class: "look-canvas", width: 1, height: 1 }), h("canvas", { class: "look-canvas", width: 1, height: 1, hidden: !wipe })];
  const details = canvases.map(() => h("canvas", { class: "look-detail", width: 1, height: 1, hidden: true }));
  const sides = canvases.map((canvas, i) => h("div", { class: "look-side" }, canvas, details[i] ?? ""));
  const line = h("div", { class: "look-line", hidden: !wipe });
  const grip = h("div", {
    class: "look-grip",
    role: "slider",
    tabindex: 0,
    hidden: !wipe,
    "aria-label": "Wipe between the two; with Alt the arrows turn it",
    "aria-valuemin": 0,
    "aria-valuemax": 100,
    onkeydown,
    onpointerdown,
    onpointermove,
  });
  const stack = h("div", { class: "look-stack" }, ...sides, line);
  const waiting = h("p", { class: "look-waiting quiet", hidden: true });
  const el = h("div", { class: "look-pane", role: "group", "aria-label": label, tabindex: 0 }, stack, grip, waiting);
  /** @type {Size} */
  let paneSize = { width: 1, height: 1 };
  const resized = new ResizeObserver(([entry]) => {
    if (!entry) return;
    paneSize = { width: entry.contentRect.width, height: entry.contentRect.height };
    update();
    el.dispatchEvent(new Event("resized"));
  });
  resized.observe(el);

  function update() {
    const whole = size();
    if (!whole) return;
    const box = placed(view(), whole, paneSize);
    Object.assign(stack.style, { left: `${box.x}px`, top: `${box.y}px`, width: `${box.width}px`, height: `${box.height}px` });
    const { scale } = view();
    attribute(el, "data-zoomed", scale !== "fit");
    attribute(el, "data-pixels", scale !== "fit" && scale * devicePixelRatio >= 1.99);
    if (!wipe) return;
    const now = wipe();
    const [, upper] = sides;
    const corners = behind(now, box).map(({ x, y }) => `${x}px ${y}px`);
    if (upper) upper.style.clipPath = corners.length > 0 ? `polygon(${corners.join(", ")})` : "inset(100%)";
    const at = gripOf(now, box);
    const place = { x: Math.min(paneSize.width, Math.max(0, box.x + at.x)), y: Math.min(paneSize.height, Math.max(0, box.y + at.y)) };
    Object.assign(grip.style, { left: `${place.x}px`, top: `${place.y}px` });
    Object.assign(line.style, { left: `${at.x}px`, top: `${at.y}px`, transform: `translate(-50%, -50%) rotate(${now.degrees}deg)` });
    attribute(grip, "aria-valuenow", Math.round(100 * now.share));
    attribute(grip, "aria-valuetext", `${Math.round(100 * now.share)} % of the way, turned by ${now.degrees}\u00b0`);
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (!wipe || !onwipe) return;
    const way = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    const end = { Home: 0, End: 1 }[event.key];
    if (way === undefined && end === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const { share, degrees } = wipe();
    if (end !== undefined) onwipe({ share: end, degrees });
    else if (event.altKey) onwipe({ share, degrees: (degrees + (way ?? 0) * TURN + 360) % 360 });
    else onwipe({ degrees, share: Math.min(1, Math.max(0, share + (way ?? 0) * STEP * (event.shiftKey ? 5 : 1))) });
  }

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    grip.setPointerCapture(event.pointerId);
    event.stopPropagation();
  }

  /** @param {PointerEvent} event */
  function onpointermove(event) {
    const whole = size();
    if (!wipe || !onwipe || !whole || !grip.hasPointerCapture(event.pointerId)) return;
    const box = placed(view(), whole, paneSize);
    const { left, top } = el.getBoundingClientRect();
    const { degrees } = wipe();
    onwipe({ degrees, share: shareAt({ x: event.clientX - left - box.x, y: event.clientY - top - box.y }, degrees, box) });
  }

  addLinkedView({ el, view, size, onview, paneSize: () => paneSize });

  return {
    el,
    update,
    paneSize: () => paneSize,
    canvases,
    /** @param {number} which @param {Shown} shown */
    show(which, shown) {
      const canvas = canvases[which];
      if (canvas) paint(canvas, shown);
    },
    /**
     * A part at full size over the rendering.
     * @param {number} which
     * @param {Shown} shown
     * @param {Box} part in pixels of the frame
     * @param {Size} whole the frame's
     */
    showDetail(which, shown, part, whole) {
      const canvas = details[which];
      if (!canvas) return;
      paint(canvas, shown, READ_BACK);
      const share = (/** @type {number} */ length, /** @type {number} */ of) => `${(100 * length) / of}%`;
      Object.assign(canvas.style, { left: share(part.x, whole.width), top: share(part.y, whole.height), width: share(part.width, whole.width), height: share(part.height, whole.height) });
      canvas.hidden = false;
    },
    /** @param {number} which */
    hideDetail(which) {
      const canvas = details[which];
      if (canvas) canvas.hidden = true;
    },
    /** @param {string} words said over the pane; none if empty */
    say(words) {
      waiting.hidden = words === "";
      waiting.textContent = words;
    },
    close: () => resized.disconnect(),
  };
}

/**
 * Zoom and pan by wheel, fingers and keys.
 * @param {{ el: HTMLElement, view: () => View, size: () => Size | null, onview: (view: View) => void, paneSize: () => Size }} wiring
 */
function addLinkedView({ el, view, size, onview, paneSize }) {
  /** @type {Map<number, { x: number, y: number }>} */
  const down = new Map();
  const density = () => window.devicePixelRatio || 1;

  /** @param {MouseEvent} event */
  function at(event) {
    const box = el.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  /** @param {number} by @param {{ x: number, y: number }} point */
  function zoomBy(by, point) {
    const whole = size();
    if (whole) onview(zoomed(view(), scaleOf(view(), whole, paneSize()) * by, point, whole, paneSize(), density()));
  }

  el.addEventListener("pointerdown", (event) => {
    down.set(event.pointerId, at(event));
    el.setPointerCapture(event.pointerId);
  });
  el.addEventListener("pointermove", (event) => {
    const [before, point, whole] = [down.get(event.pointerId), at(event), size()];
    if (!before || !whole) return;
    const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const apart = (/** @type {{ x: number, y: number }} */ it) => Math.max(1, Math.hypot(it.x - other.x, it.y - other.y));
      zoomBy(apart(point) / apart(before), { x: (point.x + other.x) / 2, y: (point.y + other.y) / 2 });
    }
    const share = other ? 0.5 : 1;
    onview(panned(view(), (point.x - before.x) * share, (point.y - before.y) * share, whole, paneSize()));
    down.set(event.pointerId, point);
  });
  for (const end of ["pointerup", "pointercancel"]) el.addEventListener(end, (event) => down.delete(/** @type {PointerEvent} */ (event).pointerId));
  el.addEventListener("dblclick", (event) => {
    const whole = size();
    if (whole) onview(zoomed(view(), view().scale === "fit" ? 1 / density() : 0, at(event), whole, paneSize(), density()));
  });
  el.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 20 : 1;
      zoomBy(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0018)), at(event));
    },
    { passive: false },
  );
  el.addEventListener("keydown", (event) => {
    const whole = size();
    if (!whole || event.ctrlKey || event.metaKey || event.altKey || event.target !== el) return;
    const middle = { x: paneSize().width / 2, y: paneSize().height / 2 };
    const by = event.shiftKey ? 200 : 40;
    const pan = { ArrowLeft: [by, 0], ArrowRight: [-by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[event.key];
    if (event.key === "+" || event.key === "=") zoomBy(1.25, middle);
    else if (event.key === "-") zoomBy(0.8, middle);
    else if (pan && view().scale !== "fit") onview(panned(view(), pan[0] ?? 0, pan[1] ?? 0, whole, paneSize()));
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
}
