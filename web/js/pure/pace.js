/** How large the frames of a clip are rendered while it plays: as large as keeps up, as measured. */

/** Parts of the preview's width. */
export const SIZES = [1, 0.75, 0.625, 0.5, 0.375];
const WORDS = ["", "3/4 size", "5/8 size", "1/2 size", "3/8 size"];
/** Frames that are looked at together. */
const LOOKED_AT = 12;
/** Share of them that may be missed. */
const MISSED_MOST = 0.15;
/** Share of the workers' time that a larger size may take, as foretold. */
const ROOM = 0.6;

/** @typedef {{ level: number, offered: number, missed: number, spent: number, done: number }} Pace */

/**
 * The first frames, with which the workers get ready, are not looked at.
 * @param {number} level that kept up before
 * @returns {Pace}
 */
export const beginPace = (level = 0) => ({ level, offered: -LOOKED_AT, missed: 0, spent: 0, done: 0 });

/**
 * After a frame was offered, whether or not there was a worker for it.
 * @param {Pace} pace
 * @param {boolean} taken
 * @param {number} period ms between frames
 * @param {number} workers
 * @returns {Pace}
 */
export function offered(pace, taken, period, workers) {
  const next = { ...pace, offered: pace.offered + 1, missed: pace.missed + (taken ? 0 : 1) };
  if (next.offered <= 0) return { ...next, missed: 0, spent: 0, done: 0 };
  if (next.offered < LOOKED_AT) return next;
  const fresh = { level: next.level, offered: 0, missed: 0, spent: 0, done: 0 };
  if (next.missed > LOOKED_AT * MISSED_MOST) return { ...fresh, level: Math.min(SIZES.length - 1, next.level + 1) };
  const larger = Number(SIZES[next.level - 1]) / Number(SIZES[next.level]);
  const foretold = (next.spent / Math.max(1, next.done)) * larger * larger;
  if (next.level > 0 && next.missed === 0 && next.done > 0 && foretold < ROOM * workers * period) return { ...fresh, level: next.level - 1 };
  return fresh;
}

/**
 * After a frame came back.
 * @param {Pace} pace
 * @param {number} ms it took
 * @returns {Pace}
 */
export const came = (pace, ms) => ({ ...pace, spent: pace.spent + ms, done: pace.done + 1 });

/**
 * What is said of the pace.
 * @param {number} shown frames per second
 * @param {number} rate frames per second of the clip
 * @param {number} level
 */
export function paceWords(shown, rate, level) {
  const whole = Math.round(rate);
  const frames = shown >= rate * 0.95 ? `${whole} frames/s` : `${Math.round(shown)} of ${whole} frames/s`;
  return WORDS[level] ? `${frames}, ${WORDS[level]}` : frames;
}

/**
 * @param {number} number of a frame
 * @param {number} frames
 * @param {number} rate
 */
export function placeWords(number, frames, rate) {
  return `${(number / rate).toFixed(2)} s, frame ${number + 1} of ${frames}`;
}
