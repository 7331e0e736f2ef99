/** What the scan's codes mean at one of its steps, asked anew whenever look or screen change. */

/** @import { ScanScale, State } from "../../types.js" */
/** @import { Asks } from "../asks.js" */

import { recipeOf } from "../recipe.js";

/** @typedef {ReturnType<typeof createScanScale>} Scale */

/**
 * @param {string} step
 * @param {Asks} asks
 */
export function createScanScale(step, asks) {
  /** @type {ScanScale | null} */
  let now = null;
  let asked = "";
  let onchange = () => {};
  return {
    now: () => now,
    /** @param {() => void} listener */
    watch(listener) {
      onchange = listener;
    },
    /** @param {State} state */
    async update({ history }) {
      const { look, delivery } = recipeOf(history.present, "");
      if (asked === look + delivery) return;
      asked = look + delivery;
      const answer = await asks.scanScale(step, look, delivery);
      if (!answer) return;
      now = answer;
      onchange();
    },
  };
}
