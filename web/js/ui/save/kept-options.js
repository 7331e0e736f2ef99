/** What was chosen when something was saved last, for the next time, on this device. */

/**
 * What is chosen in the save dialog.
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

/**
 * @template {object} O
 * @param {string} key where they are kept
 */
export function optionsUnder(key) {
  /** @returns {Partial<O>} */
  function kept() {
    try {
      const found = JSON.parse(localStorage.getItem(key) ?? "{}");
      return typeof found === "object" && found !== null ? found : {};
    } catch {
      return {};
    }
  }
  return {
    kept,
    /** @param {Partial<O>} more */
    keep(more) {
      try {
        localStorage.setItem(key, JSON.stringify({ ...kept(), ...more }));
      } catch {
        // Then they hold until the page is left.
      }
    },
  };
}

/** @type {{ kept: () => SaveOptions, keep: (more: SaveOptions) => void }} */
export const { kept: keptOptions, keep: keepOptions } = optionsUnder("lookwright.save");
