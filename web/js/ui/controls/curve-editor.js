/** Curves of one step, one at a time over the frame's histogram: points by pointer and keyboard. */

/** @import { CurveControl, CurvePoints, CurveSamples, Place, StepSettings } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Row } from "./row.js" */
/** @import { Scale } from "./scan-scale.js" */

import { linePath, spreadPath } from "../../pure/plot.js";
import { added, drawn, moved, removed, stored, widestGap } from "../../pure/points.js";
import { pointSaid } from "../../pure/scan-words.js";
import { valueOf } from "../../pure/settings.js";
import { attribute, h, newId, svg, text } from "../dom.js";
import { READ_BACK } from "../picture/side.js";
import { createChoice } from "./choice.js";
import { createCurvePoints } from "./curve-points.js";

/** Units of the drawing. */
const SIDE = 320;
const HEIGHT = 200;
/** The channel that a curve acts on; one that is not named here acts on all. */
const CHANNELS = /** @type {Record<string, number | undefined>} */ ({ red: 0, green: 1, blue: 2 });

/**
 * @param {CurveControl[]} curves
 * @param {(control: string) => Place} place
 * @param {Edits} edits
 * @param {Client} client
 * @param {HTMLCanvasElement} input a small picture of what arrives, whose codes lie behind the curve
 * @param {Scale | null} scale what the codes of points mean
 * @returns {Row}
 */
export function createCurveEditor(curves, place, edits, client, input, scale) {
  let control = /** @type {CurveControl} */ (curves[0]);
  let points = /** @type {CurvePoints} */ ([]);
  let samples = /** @type {CurveSamples | null} */ (null);
  /** @type {StepSettings} */
  let settings = {};
  let off = false;

  const label = newId();
  const tabs = createChoice(
    { options: curves.map(({ id, label: words }) => ({ id, label: words })) },
    {
      labelledby: label,
      onvalue(id) {
        control = curves.find((it) => it.id === id) ?? control;
        show();
      },
    },
  );
  const line = svg("path", { class: "plot-line" });
  const spread = svg("path", { class: "plot-spread" });
  const plot = svg(
    "svg",
    { class: "plot plot-curve", viewBox: `0 0 ${SIDE} ${HEIGHT}`, preserveAspectRatio: "none", "aria-hidden": "true" },
    spread,
    svg("path", { class: "plot-grid", d: grid() }),
    svg("path", { class: "plot-straight", d: `M0 ${HEIGHT}L${SIDE} 0` }),
    line,
  );
  const handles = createCurvePoints({
    said: (x, y) => pointSaid(scale?.now() ?? null, x, y),
    onmove: (index, x, y, dragging) => change(moved(points, index, x, y), dragging),
    onremove: (index) => change(removed(points, index), false),
    onrest: edits.rest,
    onadd(x, y) {
      const result = points.length < control.max_points ? added(points, x, y) : null;
      if (!result) return null;
      change(result.points, true);
      return result.index;
    },
  });
  scale?.watch(() => handles.update(points, off));
  const help = h("p", { class: "step-help" });
  const add = h("button", { class: "small", type: "button", onclick: addInGap }, "Add point");
  const reset = h("button", { class: "small", type: "button", onclick: () => edits.reset(place(control.id)) }, "Reset curve");
  const el = h(
    "div",
    { class: "curve-editor" },
    h("span", { class: "quiet", id: label, hidden: true }, "Curve"),
    tabs.el,
    help,
    h("div", { class: "plot-frame" }, plot, handles.el),
    handles.readout,
    h("div", { class: "curve-foot" }, add, reset),
  );

  function drawSpread() {
    const rgba = input.getContext("2d", READ_BACK)?.getImageData(0, 0, input.width, input.height).data;
    const own = CHANNELS[control.id];
    if (rgba) spread.setAttribute("d", spreadPath(rgba, own === undefined ? [0, 1, 2] : [own], SIDE, HEIGHT));
  }
  input.addEventListener("painted", drawSpread);

  function addInGap() {
    const x = widestGap(points);
    const at = samples ? samples[Math.round(x * (samples.length - 1))] : undefined;
    const result = added(points, x, at ?? x);
    if (!result || points.length >= control.max_points) return;
    change(result.points, false);
    handles.focus(result.index);
  }

  /**
   * @param {CurvePoints} next as drawn
   * @param {boolean} dragging
   */
  function change(next, dragging) {
    points = next;
    edits.setValue(place(control.id), stored(next), dragging);
  }

  async function show() {
    const asked = control;
    points = drawn(/** @type {CurvePoints} */ (valueOf(settings, control)));
    tabs.update(control.id, off);
    text(help, control.help);
    handles.update(points, off);
    add.disabled = off || points.length >= control.max_points;
    reset.disabled = off || stored(points).length === 0;
    attribute(el, "data-off", off);
    drawSpread();
    const answer = await client.curve(points);
    if (!answer || asked !== control) return;
    samples = answer;
    line.setAttribute("d", linePath(answer, SIDE, HEIGHT));
  }

  return {
    el,
    update(next, nextOff) {
      settings = next;
      off = nextOff;
      show();
    },
  };
}

/** @returns {string} quarters */
function grid() {
  return [1, 2, 3].map((i) => `M${(i * SIDE) / 4} 0V${HEIGHT}M0 ${(i * HEIGHT) / 4}H${SIDE}`).join("");
}
