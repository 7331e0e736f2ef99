/** Bringing frames of a reel together: how bright a rendering is, and the exposure that makes it as bright as another. */

/** @import { Shown } from "../../../types.js" */

/** Weights of red, green and blue in a screen's code (Rec. ITU-R BT.709-6, luma). */
const LUMA = /** @type {const} */ ([0.2126, 0.7152, 0.0722]);

/**
 * @param {Shown} shown
 * @returns {number} the luma that half of the pixels are below, 0 ... 255; 0 if there are none
 */
export function medianLuma({ pixels }) {
  const counts = new Uint32Array(256);
  for (let i = 0; i + 3 < pixels.length; i += 4) {
    const luma = LUMA[0] * (pixels[i] ?? 0) + LUMA[1] * (pixels[i + 1] ?? 0) + LUMA[2] * (pixels[i + 2] ?? 0);
    const at = Math.min(255, Math.round(luma));
    counts[at] = (counts[at] ?? 0) + 1;
  }
  const half = pixels.length / 8;
  let below = 0;
  for (let code = 0; code < 256; code += 1) {
    const here = counts[code] ?? 0;
    // Evenly spread within a code, so that small steps of exposure are told apart.
    if (below + here >= half && here > 0) return code + (half - below) / here - 0.5;
    below += here;
  }
  return 0;
}

/**
 * The exposure at which a frame is as bright as wanted; brightness never falls with exposure.
 * @param {(stops: number) => Promise<number>} brightness
 * @param {number} wanted
 * @param {{ min: number, max: number, step: number }} range of the exposure, in stops
 * @returns {Promise<number>} on the control's grid; an end of the range if that is not enough
 */
export async function exposureFor(brightness, wanted, { min, max, step }) {
  let [low, high] = [min, max];
  while (high - low > step / 2) {
    const middle = (low + high) / 2;
    if ((await brightness(middle)) < wanted) low = middle;
    else high = middle;
  }
  return Math.min(max, Math.max(min, Math.round((low + high) / 2 / step) * step));
}
