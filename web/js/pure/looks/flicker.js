/** Changing between two pictures, never so fast that it could harm (WCAG 2.2, 2.3.1: three a second at most). */

/** The least time between two changes, in ms: a little more than a third of a second. */
export const LEAST = 340;
/** Between two changes that come by themselves. */
export const PERIOD = 600;

/**
 * @param {number | null} last when the last change was, in ms
 * @param {number} now
 * @returns {boolean} whether there may be another one
 */
export const mayChange = (last, now) => last === null || now - last >= LEAST;
