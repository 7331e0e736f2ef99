/**
 * The picture pane: two sides and a wipe between them, each side a preview and a sharp detail. Where
 * the window is upright and the picture wide, the sides stand one above the other instead.
 */

/** @import { Box, FrameId, ReelFrame, Shown, Size, State, View } from "../../../types.js" */

import { GAP, arranged, placed } from "../../pure/viewport.js";
import { attribute, h } from "../dom.js";
import { PHONE, UPRIGHT } from "../shape.js";
import { createPaneWords } from "./pane-words.js";
import { createPinMarks } from "./pin-marks.js";
import { createSide } from "./side.js";

/** @typedef {"before" | "after"} SideName */
/** @typedef {ReturnType<typeof createPicture>} Picture */

/**
 * @param {{ onresize: () => void, onwipe: (wipe: number) => void, onretry: () => void, onopen: () => void,
 *   onback: (id: FrameId) => void, smallOf: (id: FrameId) => HTMLCanvasElement | null }} wiring onback: the
 *   person gives up what is being opened, for the frame that was shown before; smallOf: a frame's
 *   small picture, which stands in for it while it is being opened
 */
export function createPicture({ onresize, onwipe, onretry, onopen, onback, smallOf }) {
  const sides = { before: createSide("before"), after: createSide("after") };
  const grip = h("div", {
    class: "wipe",
    role: "slider",
    tabindex: 0,
    "aria-label": "Wipe between the two sides",
    "aria-valuemin": 0,
    "aria-valuemax": 100,
    onkeydown,
  }, h("i", {}), h("i", {}), h("i", {}));
  const line = h("div", { class: "wipe-line" });
  const opening = h("div", { class: "opening" }, sides.before.el, sides.after.el, line, grip);
  const pins = createPinMarks();
  opening.append(pins.el);
  const words = createPaneWords({ onretry, onopen, onback: () => before && onback(before) });
  const pane = h("div", { class: "pane", tabindex: 0, role: "group", "aria-label": "Picture", "aria-busy": "true" }, opening, words.el);
  /** All there is, and what a picture may take of it. @type {Size} */
  let room = { width: 1, height: 1 };
  let paneSize = room;
  let stacked = false;
  /** How far below the pane's top a picture begins that would stand in the middle of its part. */
  let shift = { before: 0, after: 0 };
  let wipe = 0;
  /** The frame whose picture, or small picture, is on both sides. @type {FrameId | null} */
  let shownFrame = null;
  /** The frame whose picture at preview size is there. @type {FrameId | null} */
  let sharpFrame = null;
  /** The one before it. @type {FrameId | null} */
  let before = null;
  /** The frame that is looked at, and its size. @type {ReelFrame | null} */
  let looked = null;
  /** @type {Size | null} */
  let whole = null;
  let rendering = true;

  /** Says what the pane shows, and whether it is what is wanted. */
  function tell() {
    const failed = looked?.stage === "failed";
    const waiting = looked !== null && !failed && looked.id !== sharpFrame;
    attribute(pane, "aria-busy", rendering || waiting ? "true" : "false");
    attribute(pane, "aria-label", !looked ? "No picture" : failed ? `${looked.name} could not be opened` : waiting ? `Opening ${looked.name}` : `Picture ${looked.name}`);
    attribute(pane, "data-empty", !looked || failed || whole === null || shownFrame !== looked.id);
    words.update(looked, waiting, before !== null);
  }

  /**
   * Another frame's picture must not stay: its small one stands in for it, or nothing.
   * @param {ReelFrame | null} frame
   * @param {Size | null} size
   */
  function follow(frame, size) {
    if (frame && frame.id !== shownFrame) {
      const small = smallOf(frame.id);
      shownFrame = small ? frame.id : null;
      before = sharpFrame ?? before;
      sharpFrame = null;
      for (const side of Object.values(sides)) side.standIn(small);
    }
    if (frame?.id === before) before = null;
    [looked, whole] = [frame, size];
    tell();
  }

  new ResizeObserver(([entry]) => {
    if (!entry) return;
    room = { width: entry.contentRect.width, height: entry.contentRect.height };
    divide();
    onresize();
  }).observe(pane);

  /** Decides whether the sides stand one above the other, and what room each has. */
  function divide() {
    const upright = UPRIGHT.matches;
    const rail = upright && PHONE.matches;
    attribute(pane, "data-rail", rail);
    const screen = { width: innerWidth, height: innerHeight };
    ({ stacked, part: paneSize } = arranged(whole, room, { upright, rail, screen }));
    attribute(opening, "data-stacked", stacked);
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const by = event.shiftKey ? 0.1 : 0.01;
    const next = {
      ArrowLeft: wipe - by,
      ArrowDown: wipe - by,
      ArrowRight: wipe + by,
      ArrowUp: wipe + by,
      PageDown: wipe - 0.1,
      PageUp: wipe + 0.1,
      Home: 0,
      End: 1,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    onwipe(next);
  }

  return {
    el: pane,
    opening,
    grip,
    /** Of what one picture may take, in CSS pixels. */
    paneSize: () => paneSize,
    /** @param {boolean} busy whether what is shown is not yet what is wanted */
    busy(busy) {
      rendering = busy;
      tell();
    },

    /**
     * Where a place on the screen lies in the part that a picture may take.
     * @param {{ clientX: number, clientY: number }} event
     */
    at({ clientX, clientY }) {
      const box = pane.getBoundingClientRect();
      const [x, y] = [clientX - box.left, clientY - box.top];
      if (!stacked) return { x, y };
      return { x, y: y - (y > paneSize.height + GAP / 2 ? shift.after : shift.before) };
    },

    /** All of the pane, in CSS pixels. */
    room: () => room,

    /**
     * Which side a place on the screen lies on where they stand above each other; null where the wipe says it.
     * @param {{ clientY: number }} event
     */
    sideAt({ clientY }) {
      return !stacked ? null : clientY - pane.getBoundingClientRect().top > paneSize.height + GAP / 2 ? "after" : "before";
    },

    /**
     * A place of the part that a picture may take, in the pane.
     * @param {SideName} side
     * @param {{ x: number, y: number }} place
     */
    placeOn: (side, { x, y }) => ({ x, y: stacked ? y + shift[side] : y }),

    /** @param {boolean} on whether all of the pane shows the side before */
    hold(on) {
      attribute(opening, "data-held", on);
    },

    density: () => Math.min(3, window.devicePixelRatio || 1),

    /**
     * @param {SideName} side
     * @param {Shown} shown
     * @param {FrameId} [frame] whose picture it is, if it may be another one's than before
     */
    show(side, shown, frame) {
      sides[side].preview(shown);
      if (frame === undefined || frame === sharpFrame) return;
      [sharpFrame, shownFrame] = [frame, frame];
      tell();
    },

    /**
     * @param {SideName} side
     * @param {Shown | null} shown
     * @param {Box | null} part of the picture, in picture pixels
     * @param {Size} whole
     */
    detail: (side, shown, part, whole) => sides[side].detail(shown, part, whole),

    /**
     * @param {View} view
     * @param {Size | null} size of the picture
     * @param {State} state
     */
    update(view, size, state) {
      const current = state.reel.find(({ id }) => id === state.current) ?? null;
      follow(current, size);
      divide();
      if (!size) return;
      wipe = view.wipe;
      const box = onPixels(placed(view, size, paneSize), view);
      const left = Math.max(0, box.x);
      const top = Math.max(0, box.y);
      const height = Math.min(paneSize.height, box.y + box.height) - top;
      const frame = {
        "--left": left,
        "--top": stacked ? paneSize.height - height : top,
        "--width": Math.min(paneSize.width, box.x + box.width) - left,
        "--height": height,
        "--whole-left": box.x - left,
        "--whole-top": box.y - top,
        "--whole-width": box.width,
        "--whole-height": box.height,
        "--wipe": view.wipe,
      };
      for (const [name, value] of Object.entries(frame)) opening.style.setProperty(name, String(value));
      shift = { before: paneSize.height - height - top, after: paneSize.height + GAP - top };
      pins.update(state, size, { ...box, x: box.x - left, y: box.y - top });
      const percent = Math.round(view.wipe * 100);
      attribute(grip, "aria-valuenow", percent);
      attribute(grip, "aria-valuetext", `${percent} % of the width`);
      attribute(pane, "data-zoomed", view.scale !== "fit");
      // Whole pixels are looked at one by one; a picture that only fills its room is not.
      attribute(pane, "data-pixels", view.scale !== "fit" && view.scale * window.devicePixelRatio >= 1.99);
    },
  };
}

/**
 * Where pixels are looked at one by one the picture begins at a whole one of the device's: the browser would mix them else.
 * @param {Box} box in CSS pixels
 * @param {View} view
 * @returns {Box}
 */
function onPixels(box, { scale }) {
  if (scale === "fit") return box;
  const snapped = (/** @type {number} */ at) => Math.round(at * devicePixelRatio) / devicePixelRatio;
  return { ...box, x: snapped(box.x), y: snapped(box.y) };
}
