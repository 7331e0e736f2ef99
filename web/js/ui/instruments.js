/** Judging instruments under the picture: waveform, vectorscope, histogram, pixel trace. */

/** @import { Scopes, State, TraceRow } from "../../types.js" */

import { h, svg, text } from "./dom.js";
import { paint } from "./picture/side.js";

/** Units of the histogram's drawing. */
const WIDE = 256;
const HIGH = 100;

const CHANNELS = /** @type {const} */ (["red", "green", "blue"]);

export function createInstruments() {
  const waveform = h("canvas", { class: "scope-canvas", width: 1, height: 1, role: "img", "aria-label": "Waveform: screen code from bottom to top, over the picture's width, red, green and blue side by side" });
  const vectorscope = h("canvas", { class: "scope-canvas scope-square", width: 1, height: 1, role: "img", "aria-label": "Vectorscope: hue around, chroma outwards" });
  const lines = CHANNELS.map((name) => svg("path", { class: `histogram-line histogram-${name}` }));
  const histogram = svg("svg", { class: "scope-canvas scope-histogram", viewBox: `0 0 ${WIDE} ${HIGH}`, preserveAspectRatio: "none", role: "img", "aria-label": "Histogram of red (solid), green (dashed) and blue (dotted) screen codes" }, ...lines);
  const rows = h("tbody");
  const where = h("span", { class: "quiet" });
  const table = h("table", { class: "trace" }, h("caption", { class: "unseen" }, "One pixel at every stage"), rows);
  const hint = h("p", { class: "quiet trace-hint" }, "Point at the picture.");
  const parts = [
    card("Waveform", "R G B, screen %", waveform),
    card("Vectorscope", "Cb, Cr", vectorscope),
    card("Histogram", "R \u2500 G \u254c B \u2508", histogram),
    card("Pixel trace", where, h("div", { class: "trace-frame", tabindex: 0, role: "group", "aria-label": "Pixel trace" }, hint, table)),
  ];

  return {
    parts,
    /** @param {Scopes} scopes */
    show(scopes) {
      paint(waveform, scopes.waveform);
      paint(vectorscope, scopes.vectorscope);
      CHANNELS.forEach((_, channel) => lines[channel]?.setAttribute("d", outline(scopes.histogram, channel)));
    },

    /** @param {TraceRow[]} trace */
    trace(trace) {
      hint.hidden = true;
      rows.replaceChildren(...trace.map(({ label, unit, values }) => {
        const cells = values.map((value) => h("td", {}, value.toFixed(3)));
        return h("tr", { title: unit }, h("th", { scope: "row" }, label, h("span", { class: "trace-unit" }, unit.split(/[,(]/)[0] ?? "")), ...cells);
      }));
    },

    /** @param {State} state */
    update({ tracePoint }) {
      text(where, tracePoint ? `x ${tracePoint.x}  y ${tracePoint.y}` : "");
    },
  };
}

/**
 * @param {string} title
 * @param {string | HTMLElement} note
 * @param {Element} content
 */
function card(title, note, content) {
  const words = typeof note === "string" ? h("span", { class: "quiet" }, note) : note;
  return h("div", { class: `scope scope-of-${title.split(" ")[0]?.toLowerCase()}` }, h("div", { class: "scope-head" }, h("h2", {}, title), words), content);
}

/**
 * One channel's counts as an outline, by the square root so that rare codes are seen.
 * @param {Uint32Array} counts three times 256
 * @param {number} channel
 */
function outline(counts, channel) {
  let most = 1;
  for (let i = 2; i < counts.length; i += 1) {
    if (i % 256 > 1 && i % 256 < 254) most = Math.max(most, /** @type {number} */ (counts[i]));
  }
  let path = `M0 ${HIGH}`;
  for (let code = 0; code < 256; code += 1) {
    const share = Math.min(1, Math.sqrt(/** @type {number} */ (counts[channel * 256 + code]) / most));
    path += `L${code} ${(HIGH - share * (HIGH - 4)).toFixed(1)}`;
  }
  return path;
}
