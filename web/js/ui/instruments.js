/** Judging instruments: red, green and blue over the picture's width, levels, colours, one pixel at every stage. */

/** @import { Catalogue, Scopes, SideName, StageAxis, StageId, State } from "../../types.js" */

import { screenOf } from "../picture/render-settings.js";
import { markWords, reachWords, reading } from "../pure/readings.js";
import { beforeWords, hasBefore, sideRead } from "../pure/reads.js";
import { createChromaticityCard } from "./chromaticity.js";
import { attribute, h, svg, text } from "./dom.js";
import { paint } from "./picture/side.js";
import { createVectorscope } from "./vectorscope.js";

/** Units of the histogram's drawing. */
const WIDE = 256;
const HIGH = 100;

/** The value of the choice for the side before the wipe. */
const BEFORE = "before";

const CHANNELS = /** @type {const} */ (["red", "green", "blue"]);

/**
 * @param {{ catalogue: Catalogue, onread: (what: Partial<Pick<State, "scopeSide" | "scopeStage" | "chromaticity">>) => void, cards: { marking: Element, pins: Element } }} wiring cards: more of them, between these and behind
 */
export function createInstruments({ catalogue, onread, cards }) {
  const { axes } = catalogue.judging;
  const waveform = h("canvas", { class: "scope-canvas", width: 1, height: 1, role: "img", "aria-label": "Waveform, without a picture so far" });
  const upwards = h("div", { class: "axis axis-up", "aria-hidden": "true" });
  const lines = CHANNELS.map((name) => svg("path", { class: `histogram-line histogram-${name}` }));
  const histogram = svg("svg", { class: "scope-canvas scope-histogram", viewBox: `0 0 ${WIDE} ${HIGH}`, preserveAspectRatio: "none", role: "img", "aria-label": "Levels, without a picture so far" }, ...lines);
  const across = h("div", { class: "axis axis-across", "aria-hidden": "true" });
  const vectorscope = createVectorscope(catalogue.judging.targets);
  const chromaticity = createChromaticityCard({ catalogue, onopen: (open) => onread({ chromaticity: open }) });
  const reach = h("p", { class: "quiet scope-reach" });
  const rows = catalogue.stages.map(({ label }, i) => {
    const cells = CHANNELS.map(() => h("td"));
    const unit = axes[i]?.unit ?? "";
    return { cells, row: h("tr", {}, h("th", { scope: "row" }, label, h("span", { class: "trace-unit" }, unit)), ...cells) };
  });
  const where = h("span", { class: "quiet" });
  const table = h("table", { class: "trace", hidden: true }, h("caption", { class: "unseen" }, "One pixel as it leaves every stage: red, green, blue"), h("tbody", {}, ...rows.map(({ row }) => row)));
  const hint = h("p", { class: "quiet trace-hint" }, "Point at the picture.");
  const other = h("option", { value: BEFORE });
  const choice = h(
    "select",
    { class: "scope-stage", "aria-label": "Stage that waveform, levels and chromaticities read, or the side before the wipe for all", onchange: () => onread(choice.value === BEFORE ? { scopeSide: "before" } : { scopeSide: "after", scopeStage: /** @type {StageId} */ (choice.value) }) },
    ...catalogue.stages.map(({ id, label }) => h("option", { value: id }, `after ${label}`)),
    other,
  );
  const finished = h("span", { class: "quiet" });
  const unit = h("span", { class: "quiet" });
  const parts = [
    card("Waveform", "waveform", choice, h("div", { class: "scope-field" }, upwards, waveform), reach),
    card("Levels", "levels", unit, h("div", { class: "scope-field" }, histogram, across)),
    cards.marking,
    card("Hue and strength", "colours", finished, vectorscope.el),
    chromaticity.el,
    card("One pixel", "pixel", where, h("div", { class: "trace-frame", tabindex: 0, role: "group", "aria-label": "One pixel at every stage" }, hint, table)),
    cards.pins,
  ];
  /** @type {StageId | null} */
  let drawn = null;
  /** What stands before the wipe. */
  let standing = "";

  /** @param {StageAxis} axis */
  function drawAxis(axis) {
    if (drawn === axis.stage) return;
    drawn = axis.stage;
    upwards.replaceChildren(...axis.marks.map((mark) => markAt(mark, axis)));
    across.replaceChildren(...axis.marks.map((mark) => markAt(mark, axis)));
    text(unit, axis.unit);
  }

  return {
    parts,
    chromaticity,
    /** @param {Scopes} scopes @param {SideName} side of the wipe that they read */
    show(scopes, side) {
      const axis = axes.find(({ stage }) => stage === scopes.stage);
      if (!axis) return;
      drawAxis(axis);
      paint(waveform, scopes.waveform);
      vectorscope.show(scopes.vectorscope);
      CHANNELS.forEach((_, channel) => lines[channel]?.setAttribute("d", outline(scopes.histogram, channel)));
      const of = side === "before" ? `Before the wipe, ${standing}: ` : "";
      const words = of + reachWords(scopes.reading, axis);
      text(reach, words);
      vectorscope.says(of);
      attribute(waveform, "aria-label", `Waveform: red, green and blue over the picture's width, in ${axis.unit}: ${words}`);
      attribute(histogram, "aria-label", `How many pixels have each level of red (solid), green (dashed) and blue (dotted): ${words}`);
    },

    /** @param {State} state */
    update(state) {
      const { tracePoint, trace, history } = state;
      const side = sideRead(state);
      standing = beforeWords(state);
      vectorscope.target(screenOf(history.present));
      chromaticity.update(state);
      text(other, `before: ${standing}`);
      attribute(other, "hidden", !hasBefore(state));
      other.disabled = !hasBefore(state);
      choice.value = side === "before" ? BEFORE : state.scopeStage;
      text(finished, side === "before" ? `before: ${standing}` : "after Screen");
      text(where, tracePoint ? `x ${tracePoint.x}  y ${tracePoint.y}` : "");
      attribute(hint, "hidden", trace !== null);
      attribute(table, "hidden", trace === null);
      trace?.forEach(({ readings, stage }, i) => {
        const axis = axes.find((it) => it.stage === stage);
        rows[i]?.cells.forEach((cell, channel) => text(cell, axis ? reading(readings[channel] ?? NaN, axis) : ""));
      });
    },
  };
}

/**
 * @param {{ place: number, says: number }} mark
 * @param {StageAxis} axis
 */
function markAt({ place, says }, axis) {
  const el = h("span", {}, markWords(says, axis));
  el.style.setProperty("--place", String(place));
  return el;
}

/**
 * @param {string} title
 * @param {string} name
 * @param {Element} beside
 * @param {...Element} content
 */
function card(title, name, beside, ...content) {
  return h("div", { class: `scope scope-of-${name}` }, h("div", { class: "scope-head" }, h("h2", {}, title), beside), ...content);
}

/**
 * One channel's counts as an outline, by the square root so that rare levels are seen.
 * @param {Uint32Array} counts three times 256
 * @param {number} channel
 */
function outline(counts, channel) {
  let most = 1;
  for (let i = 2; i < counts.length; i += 1) {
    if (i % 256 > 1 && i % 256 < 254) most = Math.max(most, /** @type {number} */ (counts[i]));
  }
  let path = `M0 ${HIGH}`;
  for (let level = 0; level < 256; level += 1) {
    const share = Math.min(1, Math.sqrt(/** @type {number} */ (counts[channel * 256 + level]) / most));
    path += `L${level} ${(HIGH - share * (HIGH - 4)).toFixed(1)}`;
  }
  return path;
}
