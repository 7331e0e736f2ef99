/** Long work as it goes on: how far it is, and a way to give it up. */

import { h, text } from "../dom.js";

/** @typedef {ReturnType<typeof createJobCards>} JobCards */

/** How often it is shown, in milliseconds: the work has better use for the time. */
const PACE_MS = 250;

/** @param {HTMLElement} region */
export function createJobCards(region) {
  return {
    /**
     * @param {string} words
     * @param {() => void} onstop
     */
    open(words, onstop) {
      const bar = h("progress", { max: 1, "aria-label": words });
      const detail = h("span", { class: "quiet" });
      // Not read out at every step: the bar can be asked, and the end is said.
      const el = h(
        "div",
        { class: "notice notice-job", "aria-live": "off" },
        h("p", {}, words, " ", detail),
        h("button", { class: "small", type: "button", onclick: onstop }, "Cancel"),
        bar,
      );
      region.append(el);
      let shown = 0;
      return {
        /** @param {{ done: number, total: number }} news */
        step({ done, total }) {
          if (done < total && performance.now() - shown < PACE_MS) return;
          shown = performance.now();
          bar.value = done / total;
          text(detail, total > 1 ? `${done} of ${total} files` : `${Math.round(100 * done)}\u00a0%`);
        },
        close: () => el.remove(),
      };
    },
  };
}
