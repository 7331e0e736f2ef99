/** The chart's marks on the picture: what is read of each patch, and four corners that can be moved. */

/** @import { ChartCheck, ChartCorners } from "../../types.js" */

import { attribute, h, svg } from "../ui/dom.js";

/** How far an arrow key moves a corner, in parts of the picture; with Shift, ten times as far. */
const STEP = 0.002;

/** @param {(which: number, to: [number, number]) => void} onmove */
export function createMarks(onmove) {
  const outlines = svg("svg", { class: "chart-outlines", viewBox: "0 0 1 1", preserveAspectRatio: "none", "aria-hidden": "true" });
  /** @type {ChartCorners | null} */
  let shown = null;
  const corners = [0, 1, 2, 3].map((which) => {
    const corner = h("button", { class: "chart-corner", type: "button", onkeydown });
    /** The pointer that drags it, and how far from its middle it took hold. @type {{ pointer: number, x: number, y: number } | null} */
    let drag = null;

    /** @param {KeyboardEvent} event */
    function onkeydown(event) {
      const by = STEP * (event.shiftKey ? 10 : 1);
      const to = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
      const at = shown?.[which];
      if (!to || !at) return;
      event.preventDefault();
      event.stopPropagation();
      onmove(which, [at[0] + (to[0] ?? 0), at[1] + (to[1] ?? 0)]);
    }

    corner.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      event.preventDefault();
      event.stopPropagation();
      corner.focus();
      corner.setPointerCapture(event.pointerId);
      const box = corner.getBoundingClientRect();
      drag = { pointer: event.pointerId, x: event.clientX - (box.left + box.width / 2), y: event.clientY - (box.top + box.height / 2) };
    });
    corner.addEventListener("pointermove", (event) => {
      if (event.pointerId !== drag?.pointer) return;
      const box = el.getBoundingClientRect();
      onmove(which, [(event.clientX - drag.x - box.left) / box.width, (event.clientY - drag.y - box.top) / box.height]);
    });
    for (const end of ["pointerup", "pointercancel"]) corner.addEventListener(end, () => (drag = null));
    return corner;
  });
  const el = h("div", { class: "chart-marks", hidden: true }, ...corners);
  el.prepend(outlines);

  return {
    el,
    /**
     * @param {ChartCorners | null} to
     * @param {ChartCheck | null} check
     */
    update(to, check) {
      shown = to;
      attribute(el, "hidden", to === null);
      if (!to) return;
      const polygons = check?.patches.map(({ outline }) => outline) ?? [];
      while (outlines.childElementCount > polygons.length) outlines.lastElementChild?.remove();
      polygons.forEach((outline, i) => {
        const polygon = outlines.children[i] ?? outlines.appendChild(svg("polygon"));
        attribute(polygon, "points", outline.map(([x, y]) => `${x.toFixed(5)},${y.toFixed(5)}`).join(" "));
      });
      corners.forEach((corner, i) => {
        const [x, y] = /** @type {readonly [number, number]} */ (to[i]);
        corner.style.left = `${x * 100}%`;
        corner.style.top = `${y * 100}%`;
        attribute(corner, "aria-label", `Corner ${i + 1} of the chart, ${(x * 100).toFixed(1)} % across and ${(y * 100).toFixed(1)} % down; arrow keys move it`);
      });
    },
  };
}
