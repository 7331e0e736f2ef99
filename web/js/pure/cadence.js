/** Even steps from frame to frame of a clip, and how many were shown in the last second. */

/** How fast the usual time of a frame follows what is measured. */
const LAG_GAIN = 0.08;
/** A frame is shown when it is this much later than usual, but no more than so many ms. */
const LAG_ROOM = 1.3;
const LAG_ROOM_MOST = 30;
/** Frames, and ms, that a rate is measured over. */
const FRAMES_LEAST = 3;
const SPAN_LEAST = 300;
const SPAN_MOST = 1000;

/**
 * @typedef {object} Cadence
 * @property {number} lag how long a frame usually takes, in ms; 0 before the first
 * @property {readonly number[]} times when the last frames were shown
 */

/** @returns {Cadence} */
export const beginCadence = () => ({ lag: 0, times: [] });

/**
 * After a frame was made.
 * @param {Cadence} cadence
 * @param {number} took ms
 * @returns {{ cadence: Cadence, wait: number }} wait: ms until it is shown, as frames that are early
 *   wait, so that all follow each other evenly
 */
export function made(cadence, took) {
  const lag = cadence.lag === 0 ? took : cadence.lag + (took - cadence.lag) * LAG_GAIN;
  return { cadence: { ...cadence, lag }, wait: Math.min(lag * LAG_ROOM, lag + LAG_ROOM_MOST) - took };
}

/**
 * After a frame was shown.
 * @param {Cadence} cadence
 * @param {number} now ms
 * @returns {Cadence}
 */
export function shown(cadence, now) {
  return { ...cadence, times: [...cadence.times.filter((time) => now - time < SPAN_MOST), now] };
}

/**
 * Frames shown per second.
 * @param {Cadence} cadence
 * @returns {number | null} null until enough have been shown
 */
export function shownPerSecond({ times }) {
  const [first = 0] = times;
  const span = (times.at(-1) ?? first) - first;
  return times.length > FRAMES_LEAST && span > SPAN_LEAST ? ((times.length - 1) * 1000) / span : null;
}
