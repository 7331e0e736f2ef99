/** Kept work that can't be read as it is: the person says what becomes of it. */

/** @import { DeskWork } from "../../kept/desk-work.js" */
/** @import { Trouble } from "../../kept/work.js" */
/** @import { Notices } from "../notices.js" */

import { h } from "../dom.js";

/**
 * @param {{ trouble: Trouble, deskWork: DeskWork, notices: Notices }} wiring
 */
export function createTroubleDialog({ trouble, deskWork, notices }) {
  /**
   * @param {string} label
   * @param {() => Promise<unknown>} act
   */
  const button = (label, act) => h("button", { class: "pill", type: "button", onclick: () => act().catch(notices.problem) }, label);
  const fresh = async () => {
    await deskWork.putAside();
    dialog.close();
    notices.say("What could not be read stays in this browser, under Start from \u2026, Kept work.");
  };
  const acts = [button("Start fresh, keep a copy", fresh), button("Download it", () => deskWork.saveOther(trouble.id))];
  if (trouble.rest) acts.unshift(button("Go on without that", deskWork.mend));
  const dialog = h(
    "dialog",
    { class: "save trouble", "aria-labelledby": "trouble-title", oncancel: (/** @type {Event} */ event) => (event.preventDefault(), fresh().catch(notices.problem)) },
    h("div", { class: "save-head" }, h("h2", { id: "trouble-title" }, "Kept work that can\u2019t be read")),
    h("p", {}, `This browser keeps work that can\u2019t be gone on with as it is: ${trouble.why}. Nothing of it is changed or deleted.`),
    ...(trouble.rest ? [h("p", { class: "quiet" }, "It can be gone on with without what is not known; a copy of all of it is kept.")] : []),
    h("div", { class: "save-actions" }, ...acts),
  );
  return dialog;
}
