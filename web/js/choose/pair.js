/** Two looks beside each other on the wall, with a wipe between them. */

/** @import { Size } from "../../types.js" */
/** @import { Choice } from "../pure/looks/choices.js" */

import { USUAL_VIEW } from "../pure/kept/record.js";
import { h, text } from "../ui/dom.js";
import { createPane } from "./pane.js";

/**
 * @param {{ size: () => Size | null, ontake: (choice: Choice) => void, oncompare: (first: Choice, second: Choice) => void,
 *   onresize: () => void }} wiring
 */
export function createPair({ size, ontake, oncompare, onresize }) {
  /** @type {(Choice | null)[]} */
  let sides = [null, null];
  let wipe = { share: 0.5, degrees: 0 };
  const pane = createPane({
    label: "Two looks with a wipe between them",
    view: () => USUAL_VIEW,
    size,
    onview: () => {},
    wipe: () => wipe,
    onwipe(next) {
      wipe = next;
      pane.update();
    },
  });
  pane.canvases.forEach((canvas, i) => (canvas.dataset["pair"] = String(i + 1)));
  pane.el.addEventListener("resized", onresize);
  const names = [h("span", {}), h("span", {})];
  const takes = [0, 1].map((i) =>
    h("button", { class: "pill", type: "button", onclick: () => sides[i] && ontake(sides[i]) }, `Take ${i + 1}`),
  );
  const compare = h("button", { class: "pill", type: "button", onclick: () => sides[0] && sides[1] && oncompare(sides[0], sides[1]) }, "Compare full size");
  const el = h(
    "div",
    { class: "wall-pair" },
    pane.el,
    h("div", { class: "pair-names" }, ...names.map((name, i) => h("p", {}, h("span", { class: "cell-mark" }, String(i + 1)), name))),
    h("div", { class: "pair-acts" }, ...takes.slice(0, 1), compare, ...takes.slice(1)),
  );

  return {
    el,
    isShown: () => el.checkVisibility(),
    /** @param {number} i */
    canvas: (i) => /** @type {HTMLCanvasElement} */ (pane.canvases[i]),
    room: pane.paneSize,
    /** @param {...(Choice | null)} next the two */
    update(...next) {
      sides = next;
      names.forEach((name, i) => text(name, next[i]?.name ?? ""));
      pane.update();
    },
  };
}
