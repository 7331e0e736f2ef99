/** Which controls of a step are two dimensions of one colour, and share a pad, a ring or a wheel. */

/**
 * @typedef {object} Plane x from left to right, y from below to above
 * @property {"plane"} kind
 * @property {string} x
 * @property {string} y
 * @property {string} colours its style
 * @property {[left: string, right: string, below: string, above: string]} words
 */

/** @typedef {{ kind: "ring", handles: { hue: string, amount: string, label: string }[] }} Ring */

/** @typedef {{ hue: string, turn: string, purity: string }} Bearing */
/** @typedef {{ kind: "wheel", bearings: Bearing[] }} Wheel */

/** @type {Record<string, Plane | Ring | Wheel>} */
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
  bearings: {
    kind: "wheel",
    bearings: [1, 2, 3].map((n) => ({ hue: `hue_${n}`, turn: `turn_${n}`, purity: `purity_${n}` })),
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

/** Distances from a wheel's middle, its radius being 1: colours without purity, with the most, and the places of bearings. */
export const WHEEL = { least: 0.2, most: 0.68, rim: 0.92 };

/**
 * Where a bearing brings its colours, on a wheel.
 * @param {{ hue: number, turn: number, share: number }} bearing degrees; share: of the range of its purity, 0 ... 1
 * @returns {{ x: number, y: number }} -1 ... 1, y upwards
 */
export function onWheel({ hue, turn, share }) {
  return onRing(hue + turn, WHEEL.least + (WHEEL.most - WHEEL.least) * share);
}

/**
 * The way back. Beyond the middle there is no purity, and the turn stays at its side.
 * @param {{ x: number, y: number }} place
 * @param {number} hue of the bearing, degrees
 * @returns {{ turn: number, share: number }} degrees; 0 ... 1
 */
export function fromWheel({ x, y }, hue) {
  const angle = (hue * Math.PI) / 180;
  const along = x * Math.cos(angle) + y * Math.sin(angle);
  const across = y * Math.cos(angle) - x * Math.sin(angle);
  const turn = (Math.atan2(across, Math.max(along, WHEEL.least / 4)) * 180) / Math.PI;
  const far = along > 0 ? Math.hypot(along, across) : 0;
  return { turn, share: Math.min(1, Math.max(0, (far - WHEEL.least) / (WHEEL.most - WHEEL.least))) };
}
