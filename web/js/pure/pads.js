/** Which controls of a step are two dimensions of one colour, and share a pad or a ring. */

/**
 * @typedef {object} Plane x from left to right, y from below to above
 * @property {"plane"} kind
 * @property {string} x
 * @property {string} y
 * @property {string} colours its style
 * @property {[left: string, right: string, below: string, above: string]} words
 */

/** @typedef {{ kind: "ring", handles: { hue: string, amount: string, label: string }[] }} Ring */

/** @type {Record<string, Plane | Ring>} */
const PADS = {
  trim: { kind: "plane", x: "kelvin", y: "tint", colours: "light", words: ["lamp", "sky", "pinker", "greener"] },
  light: { kind: "plane", x: "kelvin", y: "tint", colours: "light", words: ["lamp", "sky", "pinker", "greener"] },
  points: { kind: "plane", x: "warmth", y: "tint", colours: "points", words: ["cooler", "warmer", "pinker", "greener"] },
  split_tone: {
    kind: "ring",
    handles: [
      { hue: "shadow_hue", amount: "shadow_tint", label: "Darks" },
      { hue: "highlight_hue", amount: "highlight_tint", label: "Lights" },
    ],
  },
};

/** @param {string} step */
export const padOf = (step) => PADS[step] ?? null;

/**
 * A hue and an amount as a place in a round pad: 0 degrees to the right, counted against the clock.
 * @param {number} hue degrees
 * @param {number} amount 0 ... 1
 * @returns {{ x: number, y: number }} -1 ... 1, y upwards
 */
export function onRing(hue, amount) {
  const angle = (hue * Math.PI) / 180;
  return { x: amount * Math.cos(angle), y: amount * Math.sin(angle) };
}

/**
 * The way back. In the middle there is no hue, so the one from before stays.
 * @param {{ x: number, y: number }} place
 * @param {number} before degrees
 * @returns {{ hue: number, amount: number }}
 */
export function fromRing({ x, y }, before) {
  const amount = Math.min(1, Math.hypot(x, y));
  if (amount < 0.004) return { hue: before, amount: 0 };
  const hue = (Math.atan2(y, x) * 180) / Math.PI;
  return { hue: hue < 0 ? hue + 360 : hue, amount };
}
