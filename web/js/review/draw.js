/** Pictures put together from others: on a canvas of sRGB, given out as pixels. */

/** @import { Shown } from "../../types.js" */

/** The page's greys. */
export const GROUND = "#1c1c1c";
export const WORDS = "#f0f0f0";
const SANS = 'system-ui, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif';

/** @typedef {OffscreenCanvasRenderingContext2D} Context */

/**
 * @param {number} width
 * @param {number} height
 * @returns {Context} on the ground's grey
 */
export function sheetOf(width, height) {
  const context = new OffscreenCanvas(Math.round(width), Math.round(height)).getContext("2d");
  if (!context) throw new Error("The browser can\u2019t draw here.");
  context.fillStyle = GROUND;
  context.fillRect(0, 0, width, height);
  context.imageSmoothingQuality = "high";
  return context;
}

/** @param {Shown} shown @returns {OffscreenCanvas} */
export function canvasOf(shown) {
  const context = sheetOf(shown.width, shown.height);
  context.putImageData(new ImageData(shown.pixels, shown.width, shown.height), 0, 0);
  return context.canvas;
}

/** @param {Context} context @returns {Shown} */
export function shownOf(context) {
  const { width, height } = context.canvas;
  return { width, height, pixels: context.getImageData(0, 0, width, height).data };
}

/**
 * One line, shortened to its room.
 * @param {Context} context
 * @param {string} words
 * @param {{ x: number, y: number, size: number, room: number, weight?: number, fill?: string }} how x, y: of the letters' ground line
 */
export function line(context, words, { x, y, size, room, weight = 400, fill = WORDS }) {
  context.font = `${weight} ${size}px ${SANS}`;
  context.fillStyle = fill;
  let text = words;
  while (text.length > 1 && context.measureText(text).width > room) text = `${text.slice(0, -2).trimEnd()}\u2026`;
  context.fillText(text, x, y);
}
