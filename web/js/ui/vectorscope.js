/** Colours of the finished picture around a middle without any: hue around, strength outwards. */

/** @import { Shown, Targets } from "../../types.js" */

import { attribute, h, svg } from "./dom.js";
import { paint } from "./picture/side.js";

const WORDS = "Hue around and strength outwards, as Cb and Cr of the screen. Boxes are colour bars at 75 %, dots at 100 %; the dashed line is the hue of skins.";
const NAMES = ["R", "Y", "G", "C", "B", "M"];
/** Half a target's side, and how far out the skin line reaches, of the field's side 100. */
const HALF = 2.2;
const SKIN_REACH = 46;

/** @param {Targets[]} targets of every screen */
export function createVectorscope(targets) {
  const canvas = h("canvas", { class: "scope-canvas", width: 1, height: 1, role: "img", "aria-label": WORDS });
  const marks = svg("svg", { class: "scope-marks", viewBox: "0 0 100 100", "aria-hidden": "true" });
  let drawn = "";
  return {
    el: h("div", { class: "scope-square" }, canvas, marks),
    /** @param {Shown} shown */
    show(shown) {
      paint(canvas, shown);
    },
    /** @param {string} of which side it is of, if it is not the one after */
    says(of) {
      attribute(canvas, "aria-label", of + WORDS);
    },
    /** @param {string} screen whose targets are drawn */
    target(screen) {
      const found = targets.find((it) => it.screen === screen);
      if (!found || screen === drawn) return;
      drawn = screen;
      marks.setAttribute("data-screen", screen);
      marks.replaceChildren(...marksOf(found));
    },
  };
}

/** @param {Targets} targets */
function marksOf({ bars: [three_quarters = [], full = []], skin }) {
  const angle = (skin * Math.PI) / 180;
  const [skinX, skinY] = [50 + SKIN_REACH * Math.cos(angle), 50 - SKIN_REACH * Math.sin(angle)];
  return [
    svg("line", { class: "skin-line", x1: 50, y1: 50, x2: skinX, y2: skinY }),
    svg("text", { x: skinX - 1, y: Math.max(5, skinY - 1), "text-anchor": "end" }, "skin"),
    ...three_quarters.flatMap(([cb, cr], i) => {
      const [x, y] = [50 + 100 * cb, 50 - 100 * cr];
      const outwards = 1 + 8 / Math.hypot(x - 50, y - 50);
      return [
        svg("rect", { x: x - HALF, y: y - HALF, width: 2 * HALF, height: 2 * HALF }),
        svg("text", { x: 50 + (x - 50) * outwards, y: 50 + (y - 50) * outwards + 1.6, "text-anchor": "middle" }, NAMES[i] ?? ""),
      ];
    }),
    ...full.map(([cb, cr]) => svg("circle", { cx: 50 + 100 * cb, cy: 50 - 100 * cr, r: 0.9 })),
  ];
}
