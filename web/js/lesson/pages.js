/** The foot of a sheet that shows one thing after the other: what comes before, where one is, what follows; by key, too. */

import { h, text } from "../ui/dom.js";

/**
 * @param {{ titles: () => readonly string[], go: (to: number) => void }} wiring
 */
export function createPages({ titles, go }) {
  let at = 0;
  const previous = h("button", { class: "pill", type: "button", onclick: () => go(at - 1) });
  const next = h("button", { class: "pill pill-lit", type: "button", onclick: () => go(at + 1) });
  const place = h("span", { class: "lesson-place", role: "status" });

  return {
    el: h("div", { class: "lesson-foot" }, previous, place, next),

    /** @param {number} to what is shown now */
    show(to) {
      at = to;
      const all = titles();
      text(previous, at > 0 ? `\u2190 ${all[at - 1]}` : "");
      previous.hidden = at === 0;
      text(next, at < all.length - 1 ? `${all[at + 1]} \u2192` : "");
      next.hidden = at >= all.length - 1;
      text(place, `${at + 1} of ${all.length}`);
    },

    /**
     * Page keys go on and back, and arrows do where they mean nothing else.
     * @param {KeyboardEvent} event
     * @returns {boolean} whether it was one of them
     */
    key(event) {
      const inField = event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement;
      const by = { PageDown: 1, PageUp: -1, ...(inField ? {} : { ArrowRight: 1, ArrowLeft: -1 }) }[event.key];
      if (!by || event.altKey || event.ctrlKey || event.metaKey) return false;
      event.preventDefault();
      go(at + by);
      return true;
    },
  };
}
