/** The history, newest first: every entry can be gone to, and nothing is lost by it. */

/** @import { State } from "../../types.js" */

import { attribute, h } from "./dom.js";
import { icon } from "./icons.js";

/** So many are listed; older ones are reached from there. */
const LISTED = 200;

/**
 * @param {{ onjump: (by: number) => void, onclose: () => void }} wiring by: entries onwards, or back if it is below zero
 */
export function createHistoryList({ onjump, onclose }) {
  const list = h("ol", { class: "history-list" });
  const close = h("button", { class: "round stage-close", type: "button", "aria-label": "Close history", title: "Close", onclick: onclose }, icon("close"));
  const el = h("section", { class: "history", "aria-label": "History", hidden: true }, h("div", { class: "stage-bar" }, h("h2", { class: "history-title" }, "History"), close), list);
  /** @type {State["history"] | null} */
  let shown = null;

  /**
   * @param {string} words
   * @param {number} by
   */
  function entry(words, by) {
    const button = h("button", { class: "history-entry", type: "button", "aria-current": by === 0 ? "step" : undefined, onclick: () => by !== 0 && onjump(by) }, h("span", {}, words));
    attribute(button, "data-undone", by > 0);
    return h("li", {}, button);
  }

  return {
    el,
    /** @param {State} state */
    update({ history, panel }) {
      el.hidden = panel !== "history";
      if (el.hidden || history === shown) return;
      shown = history;
      const { past, present, future } = history;
      const said = (/** @type {State["history"]["present"]} */ { made }, /** @type {boolean} */ first) => (first ? "As it was opened" : sentence(made ?? "a change"));
      const ahead = future.slice(0, LISTED).map((doc, i) => entry(said(doc, false), i + 1)).reverse();
      const behind = past.slice(-LISTED).map((doc, i, all) => entry(said(doc, i === 0 && past.length <= LISTED), i - all.length)).reverse();
      list.replaceChildren(...ahead, entry(said(present, past.length === 0), 0), ...behind);
      list.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest" });
    },
  };
}

/** @param {string} words */
function sentence(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
