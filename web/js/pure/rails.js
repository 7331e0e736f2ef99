/** What a rail shows: chosen by where the control lives, else by its unit. */

/** @import { NumberControl, Place } from "../../types.js" */

/** By `step.control`, or by the control alone. */
const KINDS = /** @type {Record<string, string>} */ ({
  kelvin: "kelvin",
  "stock.scene_light": "kelvin",
  "trim.tint": "tint",
  "light.tint": "tint",
  "points.red": "red",
  "points.green": "green",
  "points.blue": "blue",
  "points.warmth": "warm",
  "points.tint": "tint",
  "points.whole": "stops",
  "contrast.black_drop": "dark",
  "contrast.white_roll": "light",
  "split_tone.shadow_hue": "hue",
  "split_tone.highlight_hue": "hue",
  "bearings.hue_1": "hue",
  "bearings.hue_2": "hue",
  "bearings.hue_3": "hue",
  "bearings.purity_1": "saturation",
  "bearings.purity_2": "saturation",
  "bearings.purity_3": "saturation",
  "saturation.saturation": "saturation",
  "dye_density.whole": "dye",
  "dye_density.red": "dye-red",
  "dye_density.yellow": "dye-yellow",
  "dye_density.green": "dye-green",
  "dye_density.cyan": "dye-cyan",
  "dye_density.blue": "dye-blue",
  "dye_density.magenta": "dye-magenta",
});
const UNITS = /** @type {Record<string, string>} */ ({ stops: "stops" });

/**
 * @param {Pick<Place, "step">} place
 * @param {Pick<NumberControl, "id" | "unit">} control
 * @returns {string | null} the last part of its style's name, null for a plain rail
 */
export function railOf({ step }, { id, unit }) {
  return KINDS[`${step}.${id}`] ?? KINDS[id] ?? UNITS[unit] ?? null;
}
