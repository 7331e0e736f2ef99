/** Bringing frames of a reel together: how bright a rendering is and how its light is balanced, and the trim that makes both like another's. */

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

/** Codes between which a pixel says something of the light: neither black nor burnt out. */
const [DARK, BRIGHT] = [12, 243];
/** How near is near enough, in stops of code. */
const NEAR = 0.002;
/** How often a step is taken at most, and how far one is tried, in mireds and Duv. */
const STEPS = 6;
const TRIED = { mired: 10, tint: 0.002 };

/**
 * How red and how blue a rendering is against green: the middle of all its pixels, so that what is
 * colourful on a small part says little. That a frame is grey in the middle is common practice, no source.
 * @param {Shown} shown
 * @returns {[number, number] | null} log2 of red over green and of blue over green; null if all is black or burnt out
 */
export function balanceOf({ pixels }) {
  const [reds, blues] = [/** @type {number[]} */ ([]), /** @type {number[]} */ ([])];
  for (let i = 0; i + 3 < pixels.length; i += 4) {
    const [red = 0, green = 0, blue = 0] = pixels.subarray(i, i + 3);
    if (Math.min(red, green, blue) < DARK || Math.max(red, green, blue) > BRIGHT) continue;
    reds.push(Math.log2(red / green));
    blues.push(Math.log2(blue / green));
  }
  return reds.length > 0 ? [middle(reds), middle(blues)] : null;
}

/** @param {number[]} values */
function middle(values) {
  const sorted = Float64Array.from(values).sort();
  // A mean of the middle fifth, so that small steps of the light are told apart.
  const part = sorted.subarray(Math.floor(sorted.length * 0.4), Math.floor(sorted.length * 0.4) + Math.max(1, Math.floor(sorted.length / 5)));
  return part.reduce((sum, value) => sum + value, 0) / part.length;
}

/**
 * The light that a frame has to be trimmed for to be balanced as wanted: Newton's method on reciprocal
 * temperature and tint, with slopes from small steps.
 * @param {(light: { kelvin: number, tint: number }) => Promise<[number, number] | null>} balance
 * @param {[number, number]} wanted
 * @param {{ kelvin: number, tint: number }} from where it stands
 * @param {{ kelvin: { min: number, max: number }, tint: { min: number, max: number } }} range
 * @returns {Promise<{ kelvin: number, tint: number } | null>} within the range; null if it can't be told
 */
export async function lightFor(balance, wanted, from, { kelvin, tint }) {
  const held = (/** @type {number} */ value, /** @type {{ min: number, max: number }} */ { min, max }) => Math.min(max, Math.max(min, value));
  let [mired, duv] = [1e6 / from.kelvin, from.tint];
  const light = (/** @type {number} */ m, /** @type {number} */ t) => ({ kelvin: 1e6 / m, tint: t });
  /** The nearest so far: a step may lead away, from where a frame is nearly black or burnt out. */
  let best = { off: Infinity, light: light(mired, duv) };
  for (let step = 0; ; step += 1) {
    const here = await balance(light(mired, duv));
    if (!here) break;
    const [red, blue] = [wanted[0] - here[0], wanted[1] - here[1]];
    const off = Math.hypot(red, blue);
    if (off < best.off) best = { off, light: light(mired, duv) };
    if (off < NEAR || step === STEPS) break;
    // Away from an end of the range, so that the step is one.
    const [byMired, byTint] = [1e6 / (mired + TRIED.mired) < kelvin.min ? -TRIED.mired : TRIED.mired, duv + TRIED.tint > tint.max ? -TRIED.tint : TRIED.tint];
    const [warmer, greener] = [await balance(light(mired + byMired, duv)), await balance(light(mired, duv + byTint))];
    if (!warmer || !greener) break;
    const [rm, bm] = [(warmer[0] - here[0]) / byMired, (warmer[1] - here[1]) / byMired];
    const [rt, bt] = [(greener[0] - here[0]) / byTint, (greener[1] - here[1]) / byTint];
    const determinant = rm * bt - rt * bm;
    // Without colour there is no light to be told.
    if (Math.abs(determinant) < 1e-9) return step === 0 ? null : best.light;
    mired = 1e6 / held(1e6 / Math.max(1, mired + (red * bt - blue * rt) / determinant), kelvin);
    duv = held(duv + (rm * blue - bm * red) / determinant, tint);
  }
  return best.off < Infinity ? best.light : null;
}
