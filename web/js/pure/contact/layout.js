/** Where everything stands on a contact sheet, in whole pixels from the upper left. */

/** @import { Box, Size } from "../../../types.js" */

import { sizeWithin } from "../fit.js";

/** Sizes of paper in mm: ISO 216 A4; ANSI A, which is US Letter, 8.5 by 11 inches. */
const PAPERS = { a4: { width: 210, height: 297 }, letter: { width: 215.9, height: 279.4 } };
/** Pixels per inch on paper: what a print at reading distance shows (common practice, no source). */
const PER_INCH = 200;
const MM_PER_INCH = 25.4;
/** PDF's unit, 1/72 inch (ISO 32000-1, 8.3.2.3). */
export const POINTS_PER_PIXEL = 72 / PER_INCH;
/** The size of letters: on paper in points, else as a part of a picture's width, and at least so many pixels. */
const TYPE_PT = 8;
const TYPE_SHARE = 1 / 24;
const TYPE_LEAST = 12;
/** In sizes of letters. */
const [LINE, TITLE, MARGIN, GAP] = [1.35, 1.9, 2.5, 1.2];

/**
 * What a sheet is made for.
 * @typedef {{ kind: "picture", cell: number } | { kind: "a4" | "letter", sideways: boolean }} Paper
 * cell: how wide a frame may be, in pixels
 *
 * @typedef {object} Cell
 * @property {number} index of the picture
 * @property {Box} picture
 * @property {Box} words beneath it
 *
 * @typedef {Size & { cells: Cell[] }} Page
 *
 * @typedef {object} Layout
 * @property {number} type the size of letters
 * @property {number} line from one line of words to the next
 * @property {Box} head of the first page
 * @property {number} titleType
 * @property {number} foot how high the line at a page's end begins above it
 * @property {Page[]} pages
 */

/**
 * @param {readonly Size[]} pictures at full size
 * @param {{ paper: Paper, columns: number, lines: number }} how lines: of words under each
 * @returns {Layout}
 */
export function contactLayout(pictures, { paper, columns, lines }) {
  const type = Math.round(paper.kind === "picture" ? Math.max(TYPE_LEAST, paper.cell * TYPE_SHARE) : TYPE_PT / POINTS_PER_PIXEL);
  const times = (/** @type {number} */ share) => Math.round(share * type);
  const [line, titleType, margin, gap] = [times(LINE), times(TITLE), times(MARGIN), times(GAP)];
  const sheet = paper.kind === "picture" ? null : paperSize(paper.kind, paper.sideways);
  const inner = (/** @type {number} */ width) => width - 2 * margin - (columns - 1) * gap;
  const cell = sheet ? Math.floor(inner(sheet.width) / columns) : paper.kind === "picture" ? paper.cell : 0;
  const width = sheet?.width ?? columns * cell + (columns - 1) * gap + 2 * margin;
  const head = { x: margin, y: margin, width: width - 2 * margin, height: Math.round(titleType * LINE) + line };
  const foot = margin + line;
  const words = lines * line + times(0.4);
  // A picture that stands upright is as high as a wide one is wide, and never higher than a page.
  const most = sheet ? sheet.height - head.y - head.height - gap - words - foot : cell;
  const sizes = pictures.map((full) => sizeWithin(full, { width: cell, height: Math.min(cell, most) }));

  /** @type {Page[]} */
  const pages = [];
  let page = { width, height: 0, cells: /** @type {Cell[]} */ ([]) };
  let y = head.y + head.height + gap;
  for (let first = 0; first < sizes.length; first += columns) {
    const row = sizes.slice(first, first + columns);
    const high = Math.max(...row.map(({ height }) => height));
    if (sheet && page.cells.length > 0 && y + high + words > sheet.height - foot) {
      pages.push(page);
      page = { width, height: 0, cells: [] };
      y = margin;
    }
    for (const [i, size] of row.entries()) {
      const x = margin + i * (cell + gap);
      // They stand on one line, so that their names do.
      page.cells.push({ index: first + i, picture: { ...size, x, y: y + high - size.height }, words: { x, y: y + high, width: cell, height: words } });
    }
    y += high + words + gap;
  }
  pages.push(page);
  for (const it of pages) it.height = sheet?.height ?? y - gap + foot;
  return { type, line, titleType, head, foot, pages };
}

/** @param {"a4" | "letter"} kind @param {boolean} sideways @returns {Size} */
function paperSize(kind, sideways) {
  const { width, height } = PAPERS[kind];
  const pixels = (/** @type {number} */ mm) => Math.round((mm / MM_PER_INCH) * PER_INCH);
  const [short, long] = [pixels(width), pixels(height)];
  return sideways ? { width: long, height: short } : { width: short, height: long };
}

/**
 * @param {string} words
 * @param {(words: string) => boolean} fits
 * @returns {string} as much of them as fits, and then a sign that there is more
 */
export function cut(words, fits) {
  if (fits(words)) return words;
  const letters = [...words];
  let [low, high] = [0, letters.length];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (fits(`${letters.slice(0, middle).join("").trimEnd()}\u2026`)) low = middle;
    else high = middle - 1;
  }
  return low > 0 ? `${letters.slice(0, low).join("").trimEnd()}\u2026` : "";
}
