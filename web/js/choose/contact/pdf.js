/** A contact sheet as a PDF: pictures as JPEG, names as text that can be searched. */

/** @import { PDFFont, PDFPage, RGB } from "pdf-lib" */
/** @import { Layout } from "../../pure/contact/layout.js" */
/** @import { Ground, Words } from "./draw.js" */

import { PDFDocument, StandardFonts, rgb } from "pdf-lib";
import { POINTS_PER_PIXEL, cut } from "../../pure/contact/layout.js";

/** Where letters stand above the lower edge of their line, as a part of their size. */
const ASCENT = 0.8;
/** How much larger than on the page letters are drawn that become a picture. */
const SHARPER = 3;

/**
 * @param {{ layout: Layout, words: Words, ground: Ground, jpegs: (Uint8Array | null)[] }} sheet
 *   jpegs: by the number of the picture; null: there is none
 * @returns {Promise<Uint8Array<ArrayBuffer>>}
 */
export async function contactPdf({ layout, words, ground, jpegs }) {
  const pdf = await PDFDocument.create();
  pdf.setTitle(words.title);
  pdf.setSubject(words.under);
  pdf.setCreator("Lookwright");
  const plain = await pdf.embedFont(StandardFonts.Helvetica);
  const bold = await pdf.embedFont(StandardFonts.HelveticaBold);
  const known = new Set(plain.getCharacterSet());
  const { head, type, line, titleType } = layout;
  for (const [number, { width, height, cells }] of layout.pages.entries()) {
    const page = pdf.addPage([width * POINTS_PER_PIXEL, height * POINTS_PER_PIXEL]);
    page.drawRectangle({ x: 0, y: 0, width: page.getWidth(), height: page.getHeight(), color: colour(ground.paper) });
    /** @param {string} text @param {{ x: number, y: number, width: number }} place @param {number} size @param {string} ink @param {PDFFont} [font] */
    const write = (text, place, size, ink, font = plain) => writeLine({ pdf, page, known }, text, { ...place, y: height - place.y, size, font, ink });
    if (number === 0) {
      await write(words.title, head, titleType, ground.ink, bold);
      await write(words.under, { ...head, y: head.y + head.height - line }, type, ground.quiet);
    }
    for (const { index, picture, words: box } of cells) {
      const jpeg = jpegs[index];
      const place = { x: picture.x * POINTS_PER_PIXEL, y: (height - picture.y - picture.height) * POINTS_PER_PIXEL, width: picture.width * POINTS_PER_PIXEL, height: picture.height * POINTS_PER_PIXEL };
      if (jpeg) page.drawImage(await pdf.embedJpg(jpeg), place);
      else page.drawRectangle({ ...place, borderColor: colour(ground.quiet), borderWidth: 0.5 });
      const top = box.y + Math.round(type * 0.4);
      for (const [i, text] of (words.captions[index] ?? []).entries()) await write(text, { ...box, y: top + i * line }, type, i === 0 ? ground.ink : ground.quiet, i === 0 ? bold : plain);
    }
    const foot = layout.pages.length > 1 ? `${words.foot} \u00b7 page ${number + 1} of ${layout.pages.length}` : words.foot;
    await write(foot, { ...head, y: height - layout.foot + Math.round(line / 2) }, type, ground.quiet);
  }
  return /** @type {Uint8Array<ArrayBuffer>} */ (await pdf.save());
}

/**
 * A line of text; letters that PDF's own fonts do not have become a picture.
 * @param {{ pdf: PDFDocument, page: PDFPage, known: Set<number> }} where
 * @param {string} text
 * @param {{ x: number, y: number, width: number, size: number, font: PDFFont, ink: string }} how pixels, from the lower left to the upper edge of the line
 */
async function writeLine({ pdf, page, known }, text, { x, y, width, size, font, ink }) {
  const points = { x: x * POINTS_PER_PIXEL, y: (y - size * ASCENT) * POINTS_PER_PIXEL, size: size * POINTS_PER_PIXEL };
  if ([...text].every((letter) => known.has(letter.codePointAt(0) ?? 0))) {
    const most = width * POINTS_PER_PIXEL;
    page.drawText(cut(text, (part) => font.widthOfTextAtSize(part, points.size) <= most), { ...points, font, color: colour(ink) });
    return;
  }
  const canvas = new OffscreenCanvas(Math.ceil(width * SHARPER), Math.ceil(size * 1.4 * SHARPER));
  const context = canvas.getContext("2d");
  if (!context) return;
  Object.assign(context, { font: `${font.name.includes("Bold") ? 600 : 400} ${size * SHARPER}px system-ui, sans-serif`, fillStyle: ink, textBaseline: "top" });
  context.fillText(cut(text, (part) => context.measureText(part).width <= canvas.width), 0, 0);
  const png = await canvas.convertToBlob({ type: "image/png" });
  const picture = await pdf.embedPng(await png.arrayBuffer());
  const pointsOf = (/** @type {number} */ side) => (side / SHARPER) * POINTS_PER_PIXEL;
  const high = pointsOf(canvas.height);
  page.drawImage(picture, { x: points.x, y: y * POINTS_PER_PIXEL - high, width: pointsOf(canvas.width), height: high });
}

/** @param {string} hex @returns {RGB} */
function colour(hex) {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  return rgb(red, green, blue);
}
