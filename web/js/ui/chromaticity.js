/** Every colour of the picture by its place among all that can be seen, in CIE 1976 u'v': gamuts are triangles there. */

/** @import { Chromaticities, Chromaticity, Diagram, State } from "../../types.js" */

import { placeAt, placeWords, sharesWords, whyNot } from "../pure/chromaticity.js";
import { beforeWords, sideRead } from "../pure/reads.js";
import { attribute, h, svg, text } from "./dom.js";
import { paint } from "./picture/side.js";

/** Wavelengths that are named, in nm, and lights that have a mark, in kelvin. */
const NAMED_NM = [460, 470, 480, 490, 500, 520, 550, 580, 600, 620];
const MARKED_KELVIN = [2000, 3200, 5600, 10_000];
/** Distance of the scales' numbers, and what a key moves the place that is read. */
const TENTH = 0.1;
const STEP = 0.01;
const KEY = "Lines: Rec.709 solid, P3 dashed, Rec.2020 dotted. Cross: white, D65. Dots: lights of 2000, 3200, 5600 and 10\u202f000 K.";
const WAITING = "One moment \u2026";

/** @param {{ catalogue: import("../../types.js").Catalogue, onopen: (open: boolean) => void }} wiring */
export function createChromaticityCard({ catalogue, onopen }) {
  const of = h("span", { class: "quiet" });
  const open = h("button", { class: "scope-stage chromaticity-open", type: "button", onclick: () => onopen(open.getAttribute("aria-expanded") !== "true") });
  const canvas = h("canvas", { class: "scope-canvas", width: 1, height: 1, role: "img" });
  const lines = svg("g", {});
  const here = svg("circle", { class: "chromaticity-here", r: 1.6, visibility: "hidden" });
  const sought = svg("path", { class: "chromaticity-sought", visibility: "hidden" });
  const marks = svg("svg", { class: "scope-marks", viewBox: "-16 -4 127 114", "aria-hidden": "true" }, lines, here, sought);
  const square = h("div", { class: "scope-square chromaticity-field", tabindex: 0, role: "group", "aria-label": "Chromaticities: point at a place to read it, or move there with the arrow keys", onpointermove, onpointerleave: () => seek(null), onkeydown }, canvas, marks);
  const read = h("output", { class: "scope-reach chromaticity-read" });
  const shares = h("p", { class: "scope-reach" });
  const body = h("div", { class: "chromaticity-body" }, square, h("div", { class: "chromaticity-words" }, read, shares, h("p", { class: "quiet" }, KEY)));
  const why = h("p", { class: "quiet", role: "status" });
  /** @type {Diagram | null} */
  let drawn = null;
  /** The pixel that is pointed at on the picture. @type {Chromaticity | null} */
  let pixel = null;
  /** The place of the diagram that is read instead. @type {Chromaticity | null} */
  let place = null;
  let subject = "";
  /** @type {State | null} */
  let last = null;
  /** Why there is nothing new to show. */
  let failed = "";

  const across = (/** @type {number} */ u) => (100 * u) / (drawn?.span ?? 1);
  const down = (/** @type {number} */ v) => 100 - across(v);

  /** @param {Chromaticity | null} to */
  function seek(to) {
    place = to;
    sought.setAttribute("visibility", to ? "visible" : "hidden");
    if (to) sought.setAttribute("d", `M${across(to.u)} 0V100M0 ${down(to.v)}H100`);
    say();
  }

  function say() {
    text(read, place ? placeWords(place) : pixel ? `${placeWords(pixel)}  (pixel)` : "Point at the diagram or the picture.");
  }

  /** @param {PointerEvent} event */
  function onpointermove({ clientX, clientY }) {
    if (!drawn) return;
    const box = canvas.getBoundingClientRect();
    const [x, y] = [(clientX - box.left) / box.width, (clientY - box.top) / box.height];
    seek(x >= 0 && x <= 1 && y >= 0 && y <= 1 ? placeAt(x * drawn.span, (1 - y) * drawn.span) : null);
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const by = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, STEP], ArrowDown: [0, -STEP] }[event.key];
    if (event.key === "Escape" && place) seek(null);
    else if (by && drawn) {
      const [u, v] = place ? [place.u, place.v] : drawn.white;
      const [span, fine] = [drawn.span, event.shiftKey ? 0.1 : 1];
      const inside = (/** @type {number} */ value) => Math.min(Math.max(value, 0), span);
      seek(placeAt(inside(u + fine * (by[0] ?? 0)), inside(v + fine * (by[1] ?? 0))));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {Diagram} diagram */
  function draw(diagram) {
    if (drawn) return;
    drawn = diagram;
    const at = (/** @type {number[]} */ [u = 0, v = 0]) => `${across(u).toFixed(2)} ${down(v).toFixed(2)}`;
    const along = (/** @type {number[][]} */ points) => `M${points.map(at).join("L")}`;
    const label = (/** @type {number} */ x, /** @type {number} */ y, /** @type {string} */ words, anchor = "middle") => svg("text", { x, y, "text-anchor": anchor }, words);
    const tenths = Array.from({ length: Math.floor(diagram.span / TENTH + 1e-9) }, (_, i) => (i + 1) * TENTH);
    const scale = tenths.flatMap((value) => {
      const words = value.toFixed(1);
      return [svg("path", { class: "chromaticity-grid", d: `M${across(value)} 0V100M0 ${down(value)}H100` }), label(across(value), 107, words), label(101.5, down(value) + 2, words, "start")];
    });
    const border = diagram.locus.map(([, u, v]) => [u, v]);
    const nm = diagram.locus.filter(([says]) => NAMED_NM.includes(says)).map(([says, u, v]) => {
      // Outwards of the white.
      const [x, y] = [across(u) - across(diagram.white[0]), down(v) - down(diagram.white[1])];
      const far = 1 + 3.4 / Math.hypot(x, y);
      return label(across(diagram.white[0]) + x * far, down(diagram.white[1]) + y * far + 1.4, String(says), x < -4 ? "end" : x > 4 ? "start" : "middle");
    });
    const gamuts = diagram.gamuts.map(({ label: words, corners }, i) => svg("path", { class: `chromaticity-gamut chromaticity-gamut-${i}`, d: `${along(corners)}Z` }, svg("title", {}, words)));
    const lights = diagram.lights.map(([, u, v]) => [u, v]);
    const dots = MARKED_KELVIN.map((kelvin) => {
      const [, u, v] = diagram.lights.reduce((best, it) => (Math.abs(it[0] - kelvin) < Math.abs(best[0] - kelvin) ? it : best));
      return svg("circle", { cx: across(u), cy: down(v), r: 0.9 });
    });
    const [x, y] = [across(diagram.white[0]), down(diagram.white[1])];
    lines.replaceChildren(
      ...scale,
      label(0, 107, "u\u2032"),
      label(101.5, 101, "v\u2032", "start"),
      svg("path", { class: "chromaticity-locus", d: `${along(border)}Z` }),
      ...nm,
      ...gamuts,
      svg("path", { class: "chromaticity-lights", d: along(lights) }),
      ...dots,
      svg("path", { class: "chromaticity-white", d: `M${x - 2.4} ${y}h4.8M${x} ${y - 2.4}v4.8` }),
    );
  }

  /** @param {State} state */
  function update(state) {
    last = state;
    const before = sideRead(state) === "before";
    const label = catalogue.stages.find(({ id }) => id === state.scopeStage)?.label ?? "";
    subject = before ? `before: ${beforeWords(state)}` : `after ${label}`;
    text(of, state.chromaticity ? subject : "");
    text(open, state.chromaticity ? "hide" : "show");
    attribute(el, "data-open", state.chromaticity);
    attribute(open, "aria-expanded", state.chromaticity ? "true" : "false");
    attribute(open, "aria-label", `${state.chromaticity ? "Hide" : "Show"} the chromaticities`);
    const reason = before ? "" : whyNot(state.scopeStage);
    text(why, !state.chromaticity ? "" : reason || failed || (drawn ? "" : WAITING));
    body.hidden = !state.chromaticity || reason !== "" || !drawn;
  }

  const el = h("div", { class: "scope scope-of-chromaticity" }, h("div", { class: "scope-head" }, h("h2", {}, "Chromaticity"), of, open), why, body);
  say();
  return {
    el,

    /** @param {Chromaticities} found */
    show(found) {
      draw(found.diagram);
      failed = "";
      paint(canvas, found.shown);
      const words = sharesWords(found.shares, found.diagram.gamuts);
      text(shares, words);
      attribute(canvas, "aria-label", `The picture\u2019s chromaticities in CIE 1976 u\u2032v\u2032, ${subject}: ${words} ${KEY}`);
      if (last) update(last);
    },

    /** @param {string} reason */
    fail(reason) {
      failed = `The chromaticities could not be counted: ${reason}`;
      text(why, failed);
    },

    /** @param {Chromaticity | null} found of the pixel that is pointed at */
    point(found) {
      pixel = found;
      here.setAttribute("visibility", found ? "visible" : "hidden");
      if (found) for (const [name, at] of [["cx", across(found.u)], ["cy", down(found.v)]]) here.setAttribute(String(name), String(at));
      say();
    },

    update,
  };
}
