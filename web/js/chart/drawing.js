/** How the look moves each patch: arrows in the plane of a and b. */

/** @import { ChartCheck, LabColour } from "../../types.js" */

import { cssOf, shiftSaid } from "../pure/chart.js";
import { attribute, h, svg } from "../ui/dom.js";

/** How far the axes go. The chart's own colours reach 80. */
const REACH = 100;
const LINES = [40, 80];
/** Length of an arrow's head. */
const HEAD = 5;

/** Where arrows can begin: the place of that colour in a patch's list. */
const FROM = /** @type {const} */ ([
  [1, "from the frame"],
  [0, "from the published colour"],
]);

export function createDrawing() {
  const arrows = svg("g", { class: "chart-arrows" });
  const drawing = svg(
    "svg",
    { class: "chart-drawing", viewBox: `${-REACH} ${-REACH} ${2 * REACH} ${2 * REACH}`, role: "img" },
    svg("path", { class: "chart-axes", d: `M${-REACH} 0H${REACH}M0 ${-REACH}V${REACH}` }),
    ...LINES.map((r) => svg("circle", { class: "chart-ring", r })),
    ...LINES.map((r) => svg("text", { x: 2, y: -r - 2 }, String(r))),
    svg("text", { x: -REACH + 2, y: -3 }, "\u2212a green"),
    svg("text", { x: REACH - 2, y: -3, "text-anchor": "end" }, "+a red"),
    svg("text", { x: -3, y: -REACH + 9, "text-anchor": "end" }, "+b yellow"),
    svg("text", { x: -3, y: REACH - 4, "text-anchor": "end" }, "\u2212b blue"),
    arrows,
  );
  const choice = h("select", { class: "scope-stage", "aria-label": "Where the arrows begin", onchange: draw }, ...FROM.map(([value, label]) => h("option", { value }, label)));
  /** @type {ChartCheck | null} */
  let shown = null;

  function draw() {
    if (!shown) return;
    const begin = /** @type {0 | 1} */ (Number(choice.value));
    arrows.replaceChildren(...shown.patches.map(({ name, colours }) => arrow(name, colours[begin], colours[2])));
    const moves = shown.patches.map(({ name, colours }) => ({ name, from: colours[begin], to: colours[2] }));
    const far = ({ from, to } = /** @type {typeof moves[number]} */ (moves[0])) => Math.hypot(to[1] - from[1], to[2] - from[2]);
    const farthest = moves.sort((one, other) => far(other) - far(one)).slice(0, 3);
    const begun = begin === 1 ? "the frame without the look" : "the published colours";
    attribute(drawing, "aria-label", `Arrows in the plane of a and b, from ${begun} to the look\u2019s. The longest: ${farthest.map(({ name, from, to }) => shiftSaid(name, from, to)).join("; ")}.`);
  }

  return {
    el: h("div", { class: "chart-moves" }, h("div", { class: "scope-head" }, h("h3", {}, "Moves"), choice), drawing),
    /** @param {ChartCheck} check */
    show(check) {
      shown = check;
      draw();
    },
  };
}

/**
 * @param {string} name
 * @param {LabColour} from
 * @param {LabColour} to
 */
function arrow(name, from, to) {
  const [[x0, y0], [x1, y1]] = [[from[1], -from[2]], [to[1], -to[2]]];
  const [dx, dy] = [x1 - x0, y1 - y0];
  const length = Math.hypot(dx, dy);
  // A move shorter than its head is a dot.
  const [ux, uy] = length > 0 ? [dx / length, dy / length] : [0, 0];
  const barb = (/** @type {number} */ side) => `L${(x1 - HEAD * (ux - 0.5 * side * uy)).toFixed(1)} ${(y1 - HEAD * (uy + 0.5 * side * ux)).toFixed(1)}`;
  const head = length > HEAD ? `M${x1} ${y1}${barb(1)}M${x1} ${y1}${barb(-1)}` : "";
  const d = `M${x0} ${y0}L${x1} ${y1}${head}`;
  return svg(
    "g",
    {},
    svg("title", {}, shiftSaid(name, from, to)),
    svg("path", { d }),
    svg("circle", { cx: x0, cy: y0, r: 2.4, fill: cssOf(from) }),
  );
}
