/** What one would add to a finished picture in an editor, in the screen's code, for demonstrations: the film itself is not in it. */

/** @import { Shown } from "../../types.js" */

/** Codes of 0 ... 1 between which a bright part begins to glow; how far it does, in parts of the width; its tint and its strength. All chosen. */
const GLOW = { from: 0.7, to: 1, reach: 0.01, tint: /** @type {const} */ ([1, 0.3, 0.1]), strength: 1.2 };
/** Standard deviation of the noise, of full code: that of the first visit's look in its mid-tones at twice its grain, as measured. */
const NOISE = 0.015;
/** Box blurs after each other that come near enough to a Gaussian. */
const BLURS = 3;

/**
 * Bright parts, blurred, tinted and laid over by "screen" (W3C Compositing and Blending Level 1, 9.1.4: `1 - (1 - a)(1 - b)`).
 * @param {Shown} shown
 * @returns {Shown}
 */
export function withGlow({ width, height, pixels }) {
  let light = new Float32Array(width * height);
  for (let i = 0; i < light.length; i += 1) {
    const code = Math.max(at(pixels, 4 * i), at(pixels, 4 * i + 1), at(pixels, 4 * i + 2)) / 255;
    light[i] = Math.min(1, Math.max(0, (code - GLOW.from) / (GLOW.to - GLOW.from))) ** 2;
  }
  const reach = Math.max(1, Math.round(GLOW.reach * width));
  for (let i = 0; i < BLURS; i += 1) light = blurred(blurred(light, width, height, reach, 1, width), height, width, reach, width, 1);
  const out = new Uint8ClampedArray(pixels);
  for (let i = 0; i < light.length; i += 1) {
    GLOW.tint.forEach((share, channel) => {
      const over = Math.min(1, GLOW.strength * share * (light[i] ?? 0));
      out[4 * i + channel] = 255 - (255 - at(pixels, 4 * i + channel)) * (1 - over);
    });
  }
  return { width, height, pixels: out };
}

/**
 * The same noise everywhere.
 * @param {Shown} shown
 * @returns {Shown}
 */
export function withNoise({ width, height, pixels }) {
  const out = new Uint8ClampedArray(pixels);
  let state = 1;
  // Knuth's multiplier and increment of 32 bits, as "Numerical Recipes" prints them.
  const next = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  for (let i = 0; i < pixels.length; i += 4) {
    // Four even ones have a variance of a third.
    const noise = 255 * NOISE * Math.sqrt(3) * (next() + next() + next() + next() - 2);
    for (let channel = 0; channel < 3; channel += 1) out[i + channel] = at(pixels, i + channel) + noise;
  }
  return { width, height, pixels: out };
}

/** @param {ArrayLike<number>} values @param {number} i */
const at = (values, i) => values[i] ?? 0;

/**
 * The mean of what lies within reach along lines; beyond an end it goes on as it is there.
 * @param {Float32Array} values
 * @param {number} length of a line
 * @param {number} lines
 * @param {number} reach
 * @param {number} step from one to the next of a line
 * @param {number} apart from one line to the next
 */
function blurred(values, length, lines, reach, step, apart) {
  const out = new Float32Array(values.length);
  const held = (/** @type {number} */ i) => Math.min(Math.max(i, 0), length - 1) * step;
  for (let line = 0; line < lines; line += 1) {
    const from = line * apart;
    let sum = 0;
    for (let i = -reach; i <= reach; i += 1) sum += at(values, from + held(i));
    for (let i = 0; i < length; i += 1) {
      out[from + i * step] = sum / (2 * reach + 1);
      sum += at(values, from + held(i + reach + 1)) - at(values, from + held(i - reach));
    }
  }
  return out;
}
