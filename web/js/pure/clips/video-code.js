/**
 * RGB as video is encoded: 8-bit Y'CbCr in the narrow range, by ITU-R BT.709-6 (3.2, 3.3 and 4.6), with a quarter
 * of the colour samples, each of which lies beside the left of its two columns and between its two
 * rows: ITU-T H.264, annex E.2.1, chroma_sample_loc_type 0, which decoders take where nothing is said.
 */

/** @import { Size } from "../../../types.js" */

const [RED, GREEN, BLUE] = [0.2126, 0.7152, 0.0722];
/** What E'B - E'Y and E'R - E'Y are divided by. */
const CB = 1.8556;
const CR = 1.5748;
/** Codes of black and white, and of no colour with the reach about it. */
const [BLACK, LUMA] = [16, 219];
const [MIDDLE, CHROMA] = [128, 224];

/**
 * The size that can be encoded: even, as two pixels share a colour sample.
 * @param {Size} size
 * @returns {Size}
 */
export const evenSize = ({ width, height }) => ({ width: Math.max(2, width - (width % 2)), height: Math.max(2, height - (height % 2)) });

/**
 * @param {Uint8ClampedArray} pixels RGBA, 0 ... 255
 * @param {Size} size of the picture; an odd last row or column is left out
 * @returns {Uint8Array<ArrayBuffer>} planes of Y', Cb and Cr, one behind the other
 */
export function videoCode(pixels, { width: stride, height: rows }) {
  const { width, height } = evenSize({ width: stride, height: rows });
  const [halfWidth, halfHeight] = [width / 2, height / 2];
  const made = new Uint8Array(width * height + 2 * halfWidth * halfHeight);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = 4 * (Math.min(y, rows - 1) * stride + Math.min(x, stride - 1));
      made[y * width + x] = BLACK + LUMA * luma(pixels, at) + 0.5;
    }
  }
  const [cb, cr] = [width * height, width * height + halfWidth * halfHeight];
  for (let y = 0; y < halfHeight; y += 1) {
    for (let x = 0; x < halfWidth; x += 1) {
      let [red, green, blue] = [0, 0, 0];
      for (let row = 0; row < 2; row += 1) {
        for (let column = -1; column <= 1; column += 1) {
          const at = 4 * (Math.min(2 * y + row, rows - 1) * stride + Math.min(Math.max(0, 2 * x + column), stride - 1));
          const weight = column === 0 ? 2 : 1;
          red += weight * (pixels[at] ?? 0);
          green += weight * (pixels[at + 1] ?? 0);
          blue += weight * (pixels[at + 2] ?? 0);
        }
      }
      // Eight weights, of codes to 255.
      const [r, g, b] = [red / 2040, green / 2040, blue / 2040];
      const bright = RED * r + GREEN * g + BLUE * b;
      const place = y * halfWidth + x;
      made[cb + place] = MIDDLE + (CHROMA * (b - bright)) / CB + 0.5;
      made[cr + place] = MIDDLE + (CHROMA * (r - bright)) / CR + 0.5;
    }
  }
  return made;
}

/** @param {Uint8ClampedArray} pixels @param {number} at @returns {number} 0 ... 1 */
function luma(pixels, at) {
  return (RED * (pixels[at] ?? 0) + GREEN * (pixels[at + 1] ?? 0) + BLUE * (pixels[at + 2] ?? 0)) / 255;
}
