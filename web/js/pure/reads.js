/** Which side of the wipe the instruments read, and what stands there. */

/** @import { SideName, StageId, State } from "../../types.js" */

/** The picture as it leaves each stage. */
export const VIEW_WORDS = /** @type {Record<StageId, string>} */ ({
  intake: "as the camera saw it",
  lens: "behind the lens",
  negative: "the negative",
  scan: "the scan",
  print: "the print",
  screen: "with the look",
});

/** @typedef {Pick<State, "received" | "view">} Sides */

/**
 * Whether something else stands before the wipe than after it.
 * @param {Sides} state
 */
export const hasBefore = ({ received, view }) => Boolean(received?.comparing) || view.before !== view.after;

/**
 * The side that instruments read: the one before only as long as there is one.
 * @param {Sides & Pick<State, "scopeSide">} state
 * @returns {SideName}
 */
export const sideRead = (state) => (state.scopeSide === "before" && hasBefore(state) ? "before" : "after");

/**
 * What stands before the wipe, in a few words.
 * @param {Sides} state
 */
export const beforeWords = ({ received, view }) => (received?.comparing ? "your own look" : VIEW_WORDS[view.before]);
