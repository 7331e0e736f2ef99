/** The loupe's glass: pixels of the file as squares of device pixels, over a picture that stays as it is. */

/** @import { Box, Loupe, Shown, SideName, Size } from "../../../types.js" */

import { covers, fetched, standing, windowOf } from "../../pure/loupe.js";
import { attribute, h, text } from "../dom.js";
import { paint } from "./side.js";

/** Side of the glass in CSS pixels, and the share of the pane's shorter side that it may take. */
const SIDE = 260;
const SHARE = 0.55;
/** The largest zoom: the glass holds whole pixels at each. */
const WHOLE = 4;

/** @typedef {ReturnType<typeof createGlass>} Glass */

export function createGlass() {
  const canvas = h("canvas", { class: "glass-canvas", width: 4, height: 4, role: "img" });
  const words = h("output", { class: "glass-words" });
  const el = h("div", { class: "glass", hidden: true }, canvas, words);
  const held = document.createElement("canvas");
  /** What is held of the file. @type {Box | null} */
  let part = null;

  /** @param {Size} pane @returns {number} in device pixels */
  function pixels(pane) {
    const side = Math.min(SIDE, SHARE * Math.min(pane.width, pane.height)) * devicePixelRatio;
    return Math.max(WHOLE, Math.floor(side / WHOLE) * WHOLE);
  }

  /** Whether all that the glass shows of the picture is held. @param {Loupe} loupe @param {Size} picture @param {Size} pane */
  const has = (loupe, picture, pane) => part !== null && covers(part, fetched(windowOf(loupe, pixels(pane)), picture, 0));

  /** Every pixel of the file that is held is a square; what is not there stays dark. @param {Loupe} loupe */
  function draw(loupe) {
    const context = canvas.getContext("2d");
    if (!context) return;
    context.clearRect(0, 0, canvas.width, canvas.height);
    if (!part) return;
    const seen = windowOf(loupe, canvas.width);
    context.imageSmoothingEnabled = false;
    context.drawImage(held, (part.x - seen.x) * loupe.zoom, (part.y - seen.y) * loupe.zoom, part.width * loupe.zoom, part.height * loupe.zoom);
  }

  return {
    el,
    pixels,

    /** @param {Shown | null} shown @param {Box} [of] the file; nothing is held any more without */
    hold(shown, of) {
      part = shown && of ? of : null;
      if (shown) paint(held, shown);
    },

    has,

    hide() {
      el.hidden = true;
    },

    /**
     * @param {Loupe} loupe
     * @param {{ x: number, y: number }} place of its pixel in the pane, in CSS pixels
     * @param {Size} pane
     * @param {SideName} side
     * @param {Size} picture
     */
    show(loupe, place, pane, side, picture) {
      attribute(el, "data-waiting", !has(loupe, picture, pane));
      const count = pixels(pane);
      const length = count / devicePixelRatio;
      if (canvas.width !== count) canvas.width = canvas.height = count;
      el.hidden = false;
      const { left, top } = standing(place, loupe, length, pane);
      // On whole device pixels, or the browser would mix them.
      const snapped = (/** @type {number} */ at) => `${Math.round(at * devicePixelRatio) / devicePixelRatio}px`;
      Object.assign(el.style, { left: snapped(left), top: snapped(top), width: `${length}px`, height: `${length}px` });
      const says = `${loupe.zoom}:1, ${side}`;
      text(words, says);
      attribute(canvas, "aria-label", `Loupe at ${says}: x ${loupe.x}, y ${loupe.y} of the file`);
      draw(loupe);
    },
  };
}
