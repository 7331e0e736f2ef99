/** What is shown on the picture in its place or over it, and the key to its signs. */

/** @import { Marking, Sign, State } from "../../types.js" */

import { percent } from "../pure/readings.js";
import { attribute, h, svg, text } from "./dom.js";

/** A sign's drawing, in its own units. */
const WIDE = 24;
const HIGH = 16;

/**
 * @param {{ markings: Marking[], onmarking: (id: string | null) => void }} wiring
 */
export function createMarkingCard({ markings, onmarking }) {
  const choice = h(
    "select",
    { class: "scope-stage", "aria-label": "What is shown on the picture", onchange: () => onmarking(choice.value || null) },
    h("option", { value: "" }, "nothing"),
    ...markings.map(({ id, label }) => h("option", { value: id }, label)),
  );
  const key = h("ul", { class: "marking-key", hidden: true, "aria-label": "Key, with how much of the picture each sign covers" });
  /** @type {string | null} */
  let drawn = null;
  /** @type {HTMLElement[]} */
  let shares = [];

  return {
    el: h("div", { class: "scope scope-of-marking" }, h("div", { class: "scope-head" }, h("h2", {}, "On the picture"), choice), key),
    /** @param {State} state */
    update({ marking, marked }) {
      choice.value = marking ?? "";
      attribute(key, "hidden", marking === null);
      if (marking !== drawn) {
        drawn = marking;
        const signs = markings.find(({ id }) => id === marking)?.key ?? [];
        shares = signs.map(() => h("span", { class: "marking-share" }));
        key.replaceChildren(...signs.map((sign, i) => h("li", {}, drawing(sign), h("span", {}, sign.says), /** @type {HTMLElement} */ (shares[i]))));
      }
      const found = marked?.marking === marking ? marked.shares : [];
      shares.forEach((el, i) => text(el, found[i] === undefined ? "" : percent(/** @type {number} */ (found[i]))));
    },
  };
}

/** @param {Sign} sign */
function drawing({ colour, hatch }) {
  const ink = `rgb(${colour.join(" ")})`;
  const field = svg("svg", { class: "marking-sign", viewBox: `0 0 ${WIDE} ${HIGH}`, "aria-hidden": "true" });
  if (hatch === "plain") field.append(svg("rect", { width: WIDE, height: HIGH, fill: ink }));
  else if (hatch === "squares") for (let i = 0; i < 6; i += 1) field.append(svg("rect", { x: 1 + 8 * (i % 3), y: 1 + 8 * Math.floor(i / 3), width: 5, height: 5, fill: ink }));
  else {
    const [from, to] = hatch === "rising" ? [HIGH, 0] : [0, HIGH];
    for (let x = -HIGH; x < WIDE; x += 8) field.append(svg("line", { x1: x, y1: from, x2: x + HIGH, y2: to, stroke: ink, "stroke-width": 3 }));
  }
  return field;
}
