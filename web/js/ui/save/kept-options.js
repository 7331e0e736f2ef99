/** What was chosen when something was saved last, for the next time, on this device. */

const KEPT = "lookwright.save";

/**
 * @typedef {object} SaveOptions
 * @property {string} [part] of the dialog
 * @property {string} [format] of a picture
 * @property {number} [quality] of a JPEG
 * @property {number} [side] the longer one, in pixels; 0: full size
 * @property {boolean} [notes] whether what the camera wrote goes along
 * @property {boolean} [place] whether where it was taken does
 * @property {string} [encoding] of the footage that a table is for
 * @property {string} [grid]
 */

/** @returns {SaveOptions} */
export function keptOptions() {
  try {
    const found = JSON.parse(localStorage.getItem(KEPT) ?? "{}");
    return typeof found === "object" && found !== null ? found : {};
  } catch {
    return {};
  }
}

/** @param {SaveOptions} more */
export function keepOptions(more) {
  try {
    localStorage.setItem(KEPT, JSON.stringify({ ...keptOptions(), ...more }));
  } catch {
    // Then they hold until the page is left.
  }
}
