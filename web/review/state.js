/** What a client has done so far: kept in this browser, so that closing the page loses nothing. */

/** @import { AnswerData, FrameAnswer, ReviewData, Say } from "../types.js" */

import { reviewId } from "../js/pure/review/review.js";

/** Where the wipe stands at first: so that there is something to take hold of. */
const WIPE = 0.25;

/**
 * @typedef {object} ReviewState
 * @property {number} frame which one is looked at
 * @property {string} version the letter that is chosen
 * @property {FrameAnswer[]} frames
 * @property {string} by
 * @property {string} words about all of it
 * @property {boolean} sign
 * @property {number} wipe 0 ... 1
 */

/** @typedef {ReturnType<typeof createState>} State */

/**
 * @param {ReviewData} review
 * @param {ReviewState} [before] what was done in another language
 */
export function createState(review, before) {
  const id = reviewId(review);
  const key = `lookwright.review.${id.slice(0, 32)}`;
  const first = review.versions[0]?.letter ?? "A";
  /** @type {ReviewState} */
  let now = {
    frame: 0,
    version: first,
    frames: review.frames.map(({ name }) => ({ name, say: "", version: first, words: "", pins: [] })),
    by: review.to,
    words: "",
    sign: false,
    wipe: WIPE,
  };
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "null");
    if (Array.isArray(kept?.frames) && kept.frames.length === review.frames.length) now = { ...now, ...kept, wipe: WIPE };
  } catch {
    // Without a store the page works as long as it is open.
  }
  if (before) now = before;
  /** @type {(() => void)[]} */
  const listeners = [];

  /** @param {Partial<ReviewState>} change */
  function set(change) {
    now = { ...now, ...change };
    try {
      localStorage.setItem(key, JSON.stringify(now));
    } catch {
      // As above.
    }
    listeners.forEach((listener) => listener());
  }

  /**
   * @param {Partial<FrameAnswer>} change
   * @param {number} [frame]
   */
  function setFrame(change, frame = now.frame) {
    set({ frames: now.frames.map((it, i) => (i === frame ? { ...it, ...change } : it)) });
  }

  const current = () => /** @type {FrameAnswer} */ (now.frames[now.frame]);

  return {
    id,
    get: () => now,
    set,
    setFrame,
    current,
    /** @param {() => void} listener */
    subscribe: (listener) => void listeners.push(listener),

    /** Says yes to the chosen version, for this frame. */
    sayYes: () => setFrame({ say: "yes", version: now.version }),

    /** Says yes to the chosen version, for every frame. */
    sayYesToAll: () => set({ frames: now.frames.map((it) => ({ ...it, say: "yes", version: now.version })) }),

    /** The whole as it would be sent now. @returns {AnswerData} */
    answer() {
      const frames = now.frames.map((it) => ({ ...it, words: it.words.trim(), pins: it.pins.filter(({ words }) => words.trim() !== "") }));
      /** @type {Say} */
      const say = frames.some((it) => it.say === "change") || !frames.some((it) => it.say === "yes") ? "change" : "yes";
      const yes = frames.filter((it) => it.say === "yes").map((it) => it.version);
      const version = yes.length > 0 && yes.every((letter) => letter === yes[0]) ? (yes[0] ?? now.version) : now.version;
      const named = new Set([version, ...frames.flatMap((it) => [it.version, ...it.pins.map((pin) => pin.version)])]);
      return {
        lookwrightAnswer: 1,
        review: id,
        title: review.title,
        by: now.by.trim(),
        at: new Date().toISOString(),
        say,
        version,
        words: now.words.trim(),
        versions: review.versions.filter(({ letter }) => named.has(letter)).map(({ letter, name, fingerprint }) => ({ letter, name, fingerprint })),
        frames,
      };
    },
  };
}
