/** What the scan's codes mean at one of its steps, asked anew whenever look or screen change. */

/** @import { ScanScale, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */

import { renderSettings } from "../../picture/render-settings.js";

/** @typedef {ReturnType<typeof createScanScale>} Scale */

/**
 * @param {string} step
 * @param {Client} client
 */
export function createScanScale(step, client) {
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
      const settings = renderSettings(history.present, "");
      const text = settings.look + settings.delivery;
      if (asked === text) return;
      asked = text;
      const answer = await client.scanScale(step, settings);
      if (!answer) return;
      now = answer;
      onchange();
    },
  };
}
