/** How large a saved picture will be: its pixels, and about how many bytes its file takes. */

/** @import { Size } from "../../../types.js" */

import { sizeWithin } from "../fit.js";

/** Longer sides that a picture can be made smaller to, in pixels; 0: full size. */
export const SIDES = [0, 4096, 2048, 1600, 1080];
/** Formats whose pixels can be made smaller. */
export const SMALL_TOO = ["png8", "jpeg"];

/** Bytes of a pixel in formats that don't pack: three numbers, or 10 bits each in a word of four bytes (SMPTE ST 268). */
const PLAIN = /** @type {Record<string, number>} */ ({ tiff16: 6, "tiff-f32": 12, dpx10: 4, dpx12: 6, dpx16: 6 });
/** The most that a pixel takes in formats that pack by its content. */
const MOST = /** @type {Record<string, number>} */ ({ png16: 6, "exr-half": 6, "exr-f32": 12 });

/**
 * @param {Size} full
 * @param {number} side the longer side that is wanted; 0: as it is
 * @returns {Size} never larger than the picture is
 */
export function savedSize(full, side) {
  return sizeWithin(full, side > 0 ? { width: side, height: side } : full);
}

/**
 * @param {string} format
 * @param {number} pixels
 * @returns {{ bytes: number, exact: boolean } | null} null if it has to be tried; not exact: at most
 */
export function plainBytes(format, pixels) {
  const [plain, most] = [PLAIN[format], MOST[format]];
  if (plain !== undefined) return { bytes: plain * pixels, exact: true };
  return most === undefined ? null : { bytes: most * pixels, exact: false };
}
