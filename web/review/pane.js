/** One version of the frame: before and after under one wipe, its closer part, its pins. */

/** @import { ReviewData, ReviewPin, ReviewShot } from "../types.js" */
/** @import { Speech } from "./words/index.js" */

import { attribute, h } from "../js/ui/dom.js";

/** How far an arrow key moves a pin, in shares of the picture. */
const NUDGE = 0.01;

/** @typedef {{ scale: number, x: number, y: number }} Zoom x, y: the picture's point in the middle, 0 ... 1 */
/** @typedef {ReturnType<typeof createPane>} Pane */

/**
 * @param {{ letter: string, review: ReviewData, shots: ReviewShot[], speech: Speech, onpinmove: (index: number, pin: ReviewPin) => void,
 *   onpinfocus: (index: number) => void }} wiring
 */
export function createPane({ letter, review, shots, speech, onpinmove, onpinfocus }) {
  const shotOf = (/** @type {number} */ frame, /** @type {string} */ kind, /** @type {boolean} */ crop) =>
    shots.find((shot) => shot.frame === frame && shot.kind === kind && shot.crop === crop)?.src ?? "";

  /** @param {string} side */
  function layer(side) {
    const picture = h("img", { class: "whole", alt: "", draggable: "false" });
    const closer = h("img", { class: "closer", alt: "", draggable: "false" });
    const moved = h("div", { class: "moved" }, picture, closer);
    return { el: h("div", { class: `layer layer-${side}` }, moved), picture, closer, moved };
  }
  const before = layer("before");
  const after = layer("after");
  const pins = h("div", { class: "pins" });
  const el = h("div", { class: "pane", tabindex: "0", role: "group", "data-letter": letter }, before.el, after.el, h("div", { class: "line" }), pins);
  let shown = -1;

  /** @param {number} frame */
  function show(frame) {
    if (shown === frame) return;
    shown = frame;
    const crop = review.frames[frame]?.crop;
    for (const [part, kind] of /** @type {const} */ ([[before, "before"], [after, letter]])) {
      part.picture.src = shotOf(frame, kind, false);
      const close = crop && shotOf(frame, kind, true);
      part.closer.hidden = !close;
      if (!crop || !close) continue;
      part.closer.src = close;
      Object.assign(part.closer.style, { left: `${crop.x * 100}%`, top: `${crop.y * 100}%`, width: `${crop.width * 100}%`, height: `${crop.height * 100}%` });
    }
  }

  /**
   * Where a pin stands on the pane, in percent.
   * @param {ReviewPin} pin
   * @param {Zoom} zoom
   */
  const placeOf = (pin, zoom) => ({ left: `${50 + (pin.x - zoom.x) * zoom.scale * 100}%`, top: `${50 + (pin.y - zoom.y) * zoom.scale * 100}%` });

  /**
   * @param {ReviewPin[]} all
   * @param {Zoom} zoom
   */
  function placePins(all, zoom) {
    while (pins.children.length > all.length) pins.lastElementChild?.remove();
    while (pins.children.length < all.length) pins.append(pinButton(pins.children.length));
    all.forEach((pin, i) => {
      const button = /** @type {HTMLElement} */ (pins.children[i]);
      Object.assign(button.style, placeOf(pin, zoom));
      attribute(button, "hidden", pin.version !== letter);
    });
  }

  /** @param {number} index */
  function pinButton(index) {
    return h(
      "button",
      {
        class: "pin",
        type: "button",
        "aria-label": speech.say("pinMoves", { n: index + 1 }),
        onclick: () => onpinfocus(index),
        onkeydown(/** @type {KeyboardEvent} */ event) {
          const [x = 0, y = 0] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [];
          if (!x && !y) return;
          event.preventDefault();
          event.stopPropagation();
          const pin = latest[index];
          const within = (/** @type {number} */ value) => Math.round(Math.min(1, Math.max(0, value)) * 1000) / 1000;
          if (pin) onpinmove(index, { ...pin, x: within(pin.x + x * NUDGE), y: within(pin.y + y * NUDGE) });
        },
      },
      String(index + 1),
    );
  }
  /** @type {ReviewPin[]} */
  let latest = [];

  return {
    el,
    letter,
    /**
     * @param {{ frame: number, wipe: number, held: boolean, zoom: Zoom, pins: ReviewPin[] }} view
     */
    update({ frame, wipe, held, zoom, pins: all }) {
      show(frame);
      latest = all;
      attribute(el, "aria-label", speech.say("picture", { n: frame + 1, of: review.frames.length, name: review.frames[frame]?.name ?? "", letter }));
      el.style.setProperty("--wipe", String(held ? 1 : wipe));
      attribute(el, "data-held", held);
      attribute(el, "data-closer", zoom.scale > 1);
      for (const { moved } of [before, after]) moved.style.transform = `scale(${zoom.scale}) translate(${(0.5 - zoom.x) * 100}%, ${(0.5 - zoom.y) * 100}%)`;
      placePins(all, zoom);
    },
    /** The picture's own size, once it is there. */
    size: () => ({ width: after.picture.naturalWidth, height: after.picture.naturalHeight }),
    loaded: () => Promise.all([before.picture, after.picture].map((picture) => picture.decode().catch(() => {}))),
    /** The pane's point as the picture's, 0 ... 1. @param {MouseEvent} event @param {Zoom} zoom */
    pointOf(event, zoom) {
      const box = el.getBoundingClientRect();
      const place = (/** @type {number} */ at, /** @type {number} */ middle) => Math.round(Math.min(1, Math.max(0, (at - 0.5) / zoom.scale + middle)) * 1000) / 1000;
      return { x: place((event.clientX - box.left) / box.width, zoom.x), y: place((event.clientY - box.top) / box.height, zoom.y) };
    },
  };
}
