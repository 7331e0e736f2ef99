/** A look that came by a link, beside one's own until the person has decided. */

/** @import { State } from "../../types.js" */

import { attribute, h, text } from "./dom.js";

/**
 * @param {{ onuse: () => void, oncompare: (on: boolean) => void, onaway: () => void }} wiring
 */
export function createReceived({ onuse, oncompare, onaway }) {
  const words = h("p", {});
  const compare = h("button", { class: "small", type: "button", onclick: () => oncompare(compare.getAttribute("aria-pressed") !== "true") }, "Compare");
  const use = h("button", { class: "small", type: "button", onclick: onuse }, "Use it");
  const away = h("button", { class: "small", type: "button", onclick: onaway }, "Put away");
  const el = h("section", { class: "received", "aria-label": "Look received", hidden: true }, words, h("div", { class: "received-acts" }, compare, use, away));
  return {
    el,
    /** @param {State} state */
    update({ received }) {
      el.hidden = received === null;
      if (!received) return;
      const name = received.look.name ? `\u201c${received.look.name}\u201d` : "without a name";
      text(words, received.comparing ? `Left your look, right the look received, ${name}.` : `A look received by a link: ${name}. Yours is as it was.`);
      attribute(compare, "aria-pressed", received.comparing ? "true" : "false");
    },
  };
}
