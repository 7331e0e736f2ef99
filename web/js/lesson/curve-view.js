/** A stage's curve on greys, with both scales, as a drawing that prints as lines. */

/** @import { Catalogue, StageCurve, StageId } from "../../types.js" */

import { markWords } from "../pure/readings.js";
import { h, svg } from "../ui/dom.js";

/** The drawing's field and its margins, in its own units. */
const FIELD = { left: 54, top: 12, width: 420, height: 300 };
const SIZE = { width: FIELD.left + FIELD.width + 14, height: FIELD.top + FIELD.height + 52 };

/** Marks of what comes in: stops, or the file's code. */
const STOPS = [-6, -4, -2, 0, 2, 4, 6];
const CODE = [0, 25, 50, 75, 100];

/** @param {Catalogue} catalogue */
export function createCurveView({ judging: { axes } }) {
  const lines = svg("g", { class: "lesson-lines" });
  const path = svg("path", { class: "lesson-path" });
  const drawing = svg("svg", { class: "lesson-drawing", viewBox: `0 0 ${SIZE.width} ${SIZE.height}`, role: "img" }, lines, path);
  return {
    el: h("div", {}, drawing),
    /**
     * @param {StageCurve} curve
     * @param {StageId} stage
     */
    show({ across, up }, stage) {
      const axis = axes.find((it) => it.stage === stage);
      const [first, last] = [across[0] ?? 0, across.at(-1) ?? 1];
      const [low, high] = [axis?.marks[0]?.says ?? 0, axis?.marks.at(-1)?.says ?? 1];
      const x = (/** @type {number} */ value) => FIELD.left + ((value - first) / (last - first)) * FIELD.width;
      const y = (/** @type {number} */ value) => FIELD.top + (1 - (Math.min(Math.max(value, low), high) - low) / (high - low)) * FIELD.height;
      if (!axis) return;
      const code = stage === "intake";
      const below = (code ? CODE : STOPS).map((says) => {
        const word = code ? String(says) : markWords(says, { unit: "stops" });
        return svg("g", {}, svg("line", { x1: x(says), x2: x(says), y1: FIELD.top, y2: FIELD.top + FIELD.height }), svg("text", { x: x(says), y: FIELD.top + FIELD.height + 20, "text-anchor": "middle" }, word));
      });
      const beside = axis.marks.map(({ says }) =>
        svg("g", {}, svg("line", { x1: FIELD.left, x2: FIELD.left + FIELD.width, y1: y(says), y2: y(says) }), svg("text", { x: FIELD.left - 8, y: y(says) + 5, "text-anchor": "end" }, markWords(says, axis))),
      );
      const unit = svg("text", { x: FIELD.left + 8, y: FIELD.top + 20 }, axis.unit);
      const light = svg("text", { x: FIELD.left + FIELD.width, y: SIZE.height - 6, "text-anchor": "end" }, code ? "code in the file, %" : "stops of light, from mid-grey");
      lines.replaceChildren(...below, ...beside, unit, light);
      const points = across.map((value, i) => [x(value), y(up[i] ?? low)]).filter(([, at]) => Number.isFinite(at));
      path.setAttribute("d", points.map(([px, py], i) => `${i === 0 ? "M" : "L"}${px?.toFixed(1)} ${py?.toFixed(1)}`).join(""));
      drawing.replaceChildren(svg("title", {}, `What leaves this stage in ${axis.unit}, for what comes in`), lines, path);
    },
  };
}
