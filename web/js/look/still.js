/** A still to match: its sheet comes when it is first asked for. */

/** @import { Wiring } from "./still-sheet.js" */
/** @import { Action } from "../ui/actions.js" */

/**
 * @param {Wiring} wiring
 * @returns {Action[]}
 */
export function stillActions(wiring) {
  /** @type {Promise<import("./still-sheet.js").StillSheet> | null} */
  let sheet = null;
  async function run() {
    sheet ??= import("./still-sheet.js").then(({ createStillSheet }) => createStillSheet(wiring));
    (await sheet).open();
  }
  const enabled = () => wiring.frame()?.stage === "ready";
  return [{ id: "match-still", label: "Match a still", group: "Look", also: "reference picture like copy fit", enabled, run }];
}
