/** The contrast step's curve as the core computes it. */

/** @import { Client } from "../../bridge/client.js" */
/** @import { Row } from "./row.js" */

import { linePath } from "../../pure/plot.js";
import { attribute, h, svg } from "../dom.js";

const WIDTH = 320;
const HEIGHT = 128;

/**
 * @param {Client} client
 * @returns {Row}
 */
export function createContrastPlot(client) {
  const line = svg("path", { class: "plot-line" });
  const pivot = svg("path", { class: "plot-pivot" });
  const plot = svg(
    "svg",
    { class: "plot", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": "Contrast curve: scan code in, from left to right, and out, from bottom to top", preserveAspectRatio: "none" },
    svg("path", { class: "plot-straight", d: `M0 ${HEIGHT}L${WIDTH} 0` }),
    pivot,
    line,
  );
  return {
    el: h("div", { class: "plot-frame" }, plot),
    async update(settings, off) {
      attribute(plot, "data-off", off);
      const curve = await client.contrastCurve(settings);
      if (!curve) return;
      line.setAttribute("d", linePath(curve.samples, WIDTH, HEIGHT));
      pivot.setAttribute("d", `M${(curve.pivot * WIDTH).toFixed(2)} 0V${HEIGHT}`);
    },
  };
}
