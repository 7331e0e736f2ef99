/** Fingers and mouse on a picture: swipe, hold, pan, pinch, tap. */

/** @import { Pane, Zoom } from "./pane.js" */

/** Longer than this without moving is a hold, in ms. */
const HOLD = 220;
/** Less than this is no movement, in CSS pixels. */
const STILL = 8;
/** More than this to a side is a swipe, in CSS pixels. */
const SWIPE = 48;
/** Closest look, in times the fit. */
const CLOSEST = 12;

/** @param {Zoom} zoom @returns {Zoom} within the picture */
export function kept({ scale, x, y }) {
  const size = Math.min(CLOSEST, Math.max(1, scale));
  const edge = 0.5 / size;
  const within = (/** @type {number} */ at) => Math.min(1 - edge, Math.max(edge, at));
  return { scale: size, x: within(x), y: within(y) };
}

/**
 * @param {Pane} pane
 * @param {{ zoom: () => Zoom, onzoom: (zoom: Zoom) => void, onhold: (held: boolean) => void, onswipe: (by: -1 | 1) => void,
 *   ontap: (pane: Pane, event: MouseEvent) => void }} wiring
 */
export function addGestures(pane, { zoom, onzoom, onhold, onswipe, ontap }) {
  const { el } = pane;
  /** @type {Map<number, PointerEvent>} */
  const fingers = new Map();
  /** @type {{ x: number, y: number, zoom: Zoom, moved: boolean, held: boolean, pinched: boolean, apart: number } | null} */
  let start = null;
  let timer = 0;
  /** Whether the last touch was a tap; a click follows it, and moves the focus before. */
  let tap = false;

  const apart = () => {
    const [a, b] = [...fingers.values()];
    return a && b ? Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) : 0;
  };

  function release() {
    clearTimeout(timer);
    if (start?.held) onhold(false);
  }

  el.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || (event.target instanceof Element && event.target.closest(".pin"))) return;
    fingers.set(event.pointerId, event);
    if (fingers.size === 2 && start) {
      release();
      start = { ...start, held: false, pinched: true, apart: apart(), zoom: zoom() };
      return;
    }
    if (fingers.size > 1) return;
    start = { x: event.clientX, y: event.clientY, zoom: zoom(), moved: false, held: false, pinched: false, apart: 0 };
    timer = setTimeout(() => {
      if (!start || start.moved || start.pinched) return;
      start.held = true;
      onhold(true);
    }, HOLD);
  });

  addEventListener("pointermove", (event) => {
    if (!start || !fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, event);
    if (start.pinched) {
      if (fingers.size === 2 && start.apart > 0) onzoom(kept({ ...start.zoom, scale: (start.zoom.scale * apart()) / start.apart }));
      return;
    }
    const [right, down] = [event.clientX - start.x, event.clientY - start.y];
    if (!start.moved && Math.hypot(right, down) < STILL) return;
    if (start.held) return;
    start.moved = true;
    clearTimeout(timer);
    if (start.zoom.scale === 1) return;
    const box = el.getBoundingClientRect();
    onzoom(kept({ scale: start.zoom.scale, x: start.zoom.x - right / box.width / start.zoom.scale, y: start.zoom.y - down / box.height / start.zoom.scale }));
  });

  for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) {
    addEventListener(end, (event) => {
      if (!fingers.delete(event.pointerId) || !start) return;
      release();
      const { moved, held, pinched, x, y, zoom: from } = start;
      if (fingers.size > 0) return;
      start = null;
      tap = !moved && !pinched && !held && end === "pointerup";
      if (pinched || held || !moved || end === "pointercancel") return;
      const [right, down] = [event.clientX - x, event.clientY - y];
      if (from.scale === 1 && Math.abs(right) > SWIPE && Math.abs(right) > 2 * Math.abs(down)) onswipe(right < 0 ? 1 : -1);
    });
  }

  el.addEventListener("click", (event) => {
    if (tap && !(event.target instanceof Element && event.target.closest(".pin"))) ontap(pane, event);
    tap = false;
  });
  // A long press is for looking, not for the browser's menu of a picture.
  el.addEventListener("contextmenu", (event) => event.preventDefault());
}
