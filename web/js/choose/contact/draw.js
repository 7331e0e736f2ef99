/** A contact sheet's pages as pictures, drawn as their cells come. */

/** @import { Shown } from "../../../types.js" */
/** @import { Layout, Page } from "../../pure/contact/layout.js" */

import { cut } from "../../pure/contact/layout.js";

/** @typedef {{ title: string, under: string, foot: string, captions: string[][] }} Words captions: lines for each picture, by its number */
/** @typedef {{ paper: string, ink: string, quiet: string }} Ground colours, `#rrggbb` */

/** What a sheet's pictures lie on: neutral, so that nothing tints what is judged. */
export const GROUNDS = /** @satisfies {Record<string, Ground>} */ ({
  White: { paper: "#ffffff", ink: "#111111", quiet: "#555555" },
  Grey: { paper: "#4a4a4a", ink: "#ffffff", quiet: "#e2e2e2" },
  Black: { paper: "#0d0d0d", ink: "#f0f0f0", quiet: "#bcbcbc" },
});

/**
 * @param {HTMLCanvasElement} canvas
 * @param {{ layout: Layout, page: Page, words: Words, ground: Ground, first: boolean }} sheet
 */
export function drawPage(canvas, { layout, page, words, ground, first }) {
  Object.assign(canvas, { width: page.width, height: page.height });
  const context = contextOf(canvas);
  context.fillStyle = ground.paper;
  context.fillRect(0, 0, page.width, page.height);
  context.textBaseline = "top";
  const { head, type, line, titleType } = layout;
  /** @param {string} text @param {number} x @param {number} y @param {number} width @param {number} size @param {string} colour */
  const write = (text, x, y, width, size, colour, weight = 400) => {
    context.font = `${weight} ${size}px system-ui, sans-serif`;
    context.fillStyle = colour;
    context.fillText(cut(text, (part) => context.measureText(part).width <= width), x, y);
  };
  if (first) {
    write(words.title, head.x, head.y, head.width, titleType, ground.ink, 600);
    write(words.under, head.x, head.y + head.height - line, head.width, type, ground.quiet);
  }
  for (const { index, words: box } of page.cells) {
    const top = box.y + Math.round(type * 0.4);
    (words.captions[index] ?? []).forEach((text, i) => write(text, box.x, top + i * line, box.width, type, i === 0 ? ground.ink : ground.quiet, i === 0 ? 600 : 400));
  }
  write(words.foot, head.x, page.height - layout.foot + Math.round(line / 2), head.width, type, ground.quiet);
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {Page["cells"][number]} cell
 * @param {Shown | null} shown null: it could not be rendered
 * @param {Ground} ground
 */
export function drawCell(canvas, { picture: { x, y, width, height } }, shown, { quiet }) {
  const context = contextOf(canvas);
  if (shown) return context.putImageData(new ImageData(shown.pixels, shown.width, shown.height), x, y);
  context.strokeStyle = quiet;
  context.strokeRect(x + 0.5, y + 0.5, width - 1, height - 1);
}

/** @param {HTMLCanvasElement} canvas @returns {Uint8ClampedArray<ArrayBuffer>} RGBA in sRGB code */
export function pixelsOf(canvas) {
  return /** @type {Uint8ClampedArray<ArrayBuffer>} */ (contextOf(canvas).getImageData(0, 0, canvas.width, canvas.height).data);
}

/** @param {HTMLCanvasElement} canvas */
function contextOf(canvas) {
  const context = canvas.getContext("2d", { alpha: false, willReadFrequently: true });
  if (!context) throw new Error("The browser gives no more room for pictures; close other pages, or take fewer or smaller frames.");
  return context;
}
