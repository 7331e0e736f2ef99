/** Pictures as small files, and how small they have to be. */

/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Shown } from "../../types.js" */
/** @import { Rendered } from "./shots.js" */

import { base64Length } from "../pure/review/compose.js";

/** @typedef {"webp" | "jpeg"} Format */
/** @typedef {{ files: Blob[], quality: number, bytes: number }} Encoded bytes: in the review, with all its letters */

/** What is tried until everything fits, best first. */
export const QUALITIES = [92, 88, 84, 80, 75, 70, 64, 58, 50];

/**
 * @param {Shown} shown
 * @param {Format} format
 * @param {number} quality 1 ... 100
 * @param {() => Bridge} reader a worker that holds nothing
 * @returns {Promise<Blob>} JPEG where the browser can't write WebP; JPEG carries its profile, WebP is sRGB by its standard
 */
export async function encoded(shown, format, quality, reader) {
  if (format === "webp") {
    const canvas = new OffscreenCanvas(shown.width, shown.height);
    canvas.getContext("2d")?.putImageData(new ImageData(shown.pixels, shown.width, shown.height), 0, 0);
    const blob = await canvas.convertToBlob({ type: "image/webp", quality: quality / 100 });
    if (blob.type === "image/webp") return blob;
  }
  const bytes = await reader().ask("encodePicture", { pixels: shown.pixels, width: shown.width, format: "jpeg", quality });
  return new Blob([bytes], { type: "image/jpeg" });
}

/**
 * Writes all pictures, at one quality or at the best that fits.
 * @param {{ shots: Rendered[], format: Format, quality: number | null, most: number, around: number, reader: () => Bridge, live: () => boolean }} wish
 *   most, around: bytes that the file may have, and those that are not pictures; live: whether anybody still waits
 * @returns {Promise<Encoded | null>} null if nobody does
 */
export async function encodeAll({ shots, format, quality, most, around, reader, live }) {
  /** @param {number} at @returns {Promise<Encoded | null>} */
  const all = async (at) => {
    const files = [];
    for (const { shown } of shots) {
      if (!live()) return null;
      files.push(await encoded(shown, format, at, reader));
    }
    return { files, quality: at, bytes: files.reduce((sum, { size }) => sum + base64Length(size), around) };
  };
  if (quality !== null) return all(quality);
  // Halving: the first in the list that fits.
  let [low, high] = [0, QUALITIES.length - 1];
  /** @type {Encoded | null} */
  let best = null;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const tried = await all(/** @type {number} */ (QUALITIES[middle]));
    if (!tried) return null;
    if (tried.bytes <= most) {
      best = tried;
      high = middle - 1;
    } else low = middle + 1;
    if (low > high && !best && middle === QUALITIES.length - 1) best = tried;
  }
  return best ?? all(/** @type {number} */ (QUALITIES.at(-1)));
}

/** @param {Blob} blob @returns {Promise<string>} */
export function dataAddress(blob) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(new Error("A picture could not be read back."));
    reader.readAsDataURL(blob);
  });
}
