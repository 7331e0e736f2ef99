/** Files that could not be opened, in one list that stays until it is read and put away. */

/** @import { Failure, State } from "../../types.js" */

import { h } from "./dom.js";
import { icon } from "./icons.js";

/**
 * @param {{ onretry: (failures: readonly Failure[]) => void, onaway: () => void }} wiring
 */
export function createFailures({ onretry, onaway }) {
  const title = h("h2", { class: "failures-title" });
  const list = h("ul", { class: "failures-list", tabindex: 0, "aria-label": "Files that could not be opened" });
  const retry = h("button", { class: "small", type: "button", onclick: () => onretry(shown.filter(({ file }) => file)) }, "Try again");
  const away = h("button", { class: "round", type: "button", "aria-label": "Put the list away", onclick: onaway }, icon("close"));
  const el = h("div", { class: "notice notice-problem failures", hidden: true }, h("div", { class: "failures-head" }, title, retry, away), list);
  /** @type {readonly Failure[]} */
  let shown = [];
  return {
    el,
    /** @param {State} state */
    update({ failures }) {
      if (failures === shown) return;
      shown = failures;
      el.hidden = failures.length === 0;
      title.textContent = failures.length === 1 ? "One file could not be opened" : `${failures.length} files could not be opened`;
      retry.hidden = !failures.some(({ file }) => file);
      list.replaceChildren(...failures.map(({ name, reason }) => h("li", {}, h("p", {}, `${name}: ${reason}`))));
    },
  };
}
