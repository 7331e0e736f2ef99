/** A worksheet: what it asks of each place, and how near an answer has to come. */

/** @import { Pin, Size, StageAxis, StageId } from "../../types.js" */

/** Two stages of each place, by turns. */
const ASKED = /** @type {readonly (readonly StageId[])[]} */ ([["intake", "scan"], ["negative", "screen"]]);
/** How far off an answer may be, by unit: twice what the instruments round by, or a little more. Chosen. */
const TOLERANCES = /** @type {Record<string, number>} */ ({ stops: 0.1, density: 0.02, "code of 1023": 2, "%": 1 });
/** Where the places are if nobody pinned any, in parts of the picture. */
const USUAL = [[0.25, 0.3], [0.5, 0.55], [0.75, 0.3], [0.6, 0.8]];

/** @typedef {{ place: number, stage: StageId, unit: string, digits: number, tolerance: number }} Question place: its number in the list */

/**
 * @param {readonly Pin[]} places a teacher's, or none
 * @param {Size} size of the picture
 * @returns {Pin[]} those that lie in it
 */
export function placesOn(places, { width, height }) {
  const within = places.filter(({ x, y }) => x < width && y < height);
  return within.length > 0 ? within : USUAL.map(([x = 0, y = 0]) => ({ x: Math.floor(x * width), y: Math.floor(y * height) }));
}

/**
 * @param {number} count of places
 * @param {readonly StageAxis[]} axes
 * @returns {Question[]}
 */
export function questionsOf(count, axes) {
  return Array.from({ length: count }, (_, place) => ASKED[place % ASKED.length] ?? []).flatMap((stages, place) =>
    stages.flatMap((stage) => {
      const axis = axes.find((it) => it.stage === stage);
      return axis ? [{ place, stage, unit: axis.unit, digits: axis.digits, tolerance: TOLERANCES[axis.unit] ?? 1 }] : [];
    }),
  );
}

/**
 * @param {string} typed
 * @returns {number | null} null for what is no number
 */
export function numberOf(typed) {
  const plain = typed.trim().replace("\u2212", "-").replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/**
 * Whether an answer is near enough.
 * @param {number} answer
 * @param {number} reading
 * @param {Question} question
 */
export function isRight(answer, reading, { tolerance }) {
  // Numbers such as 0.1 have no exact form.
  return Math.abs(answer - reading) <= tolerance + 1e-9;
}
