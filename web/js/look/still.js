/** A still to match: its sheet comes when it is first asked for. */

/** @import { Wiring } from "./still-sheet.js" */
/** @import { Action } from "../ui/actions.js" */

import { once } from "../once.js";

/**
 * @param {Wiring} wiring
 * @returns {Action[]}
 */
export function stillActions(wiring) {
  const sheet = once(async () => (await import("./still-sheet.js")).createStillSheet(wiring));
  const run = async () => (await sheet()).open();
  const enabled = () => wiring.frame()?.stage === "ready";
  return [{ id: "match-still", label: "Match a still", group: "Look", also: "reference picture like copy fit", enabled, run }];
}
