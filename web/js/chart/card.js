/** The chart's card among the instruments: to find it, what it says, what the look does to it. */

/** @import { ChartCheck, ChartPatch } from "../../types.js" */
/** @import { Marked } from "./chart.js" */

import { cssOf, differencesSaid, labSaid, stopsSaid, trimSaid } from "../pure/chart.js";
import { attribute, h, text } from "../ui/dom.js";
import { createDrawing } from "./drawing.js";

const HINT = "A frame that shows a 24-patch chart tells its own exposure and light, and what the look does to each colour.";
const PUT = "Put each mark on the middle of a corner patch, by hand or with the arrow keys.";
const SPACE = "L, a and b under D50, CIEDE2000 from the colours published for charts made since November 2014. Without the look: the frame\u2019s light with its trim. With it: what the screen shows, without texture, its white taken for D50.";

/**
 * @param {{ onfind: () => void, onmark: () => void, onaway: () => void, ontake: () => void, onsave: () => void }} wiring
 */
export function createCard({ onfind, onmark, onaway, ontake, onsave }) {
  const search = h("button", { class: "pill", type: "button", onclick: onfind }, "Find the chart");
  const byHand = h("button", { class: "pill", type: "button", onclick: onmark }, "Mark it by hand");
  const away = h("button", { class: "pill", type: "button", onclick: onaway }, "Clear marks");
  const says = h("p", { class: "chart-says", role: "status" }, HINT);
  const remarks = h("ul", { class: "chart-remarks" });
  const trim = h("p", { class: "chart-trim" });
  const use = h("button", { class: "pill", type: "button", onclick: ontake });
  const far = h("p", { class: "chart-far" });
  const drawing = createDrawing();
  const body = h("tbody");
  const table = h(
    "table",
    { class: "trace chart-table" },
    h("caption", { class: "unseen" }, "Each patch: its light in stops from mid-grey, how far it lies from its published colour without and with the look, and its L, a, b without and with the look"),
    h("thead", {}, h("tr", {}, ...["Patch", "stops", "dE without", "dE with"].map((label) => h("th", { scope: "col" }, label)))),
    body,
  );
  const save = h("button", { class: "pill", type: "button", onclick: onsave }, "Save as CSV");
  const found = h(
    "div",
    { class: "chart-found", hidden: true },
    h("div", { class: "chart-suggests" }, trim, use),
    remarks,
    far,
    drawing.el,
    h("div", { class: "chart-rows", tabindex: 0, role: "group", "aria-label": "All patches" }, table),
    h("p", { class: "quiet" }, SPACE),
    h("div", { class: "pin-foot" }, save),
  );
  /** @type {ChartCheck | null} */
  let drawn = null;

  return {
    el: h("div", { class: "scope scope-of-chart" }, h("div", { class: "scope-head" }, h("h2", {}, "Chart"), h("span", { class: "quiet" }, "24 patches")), says, h("div", { class: "pin-foot" }, search, byHand, away), found),

    /** @param {{ ready: boolean, marked: Marked | null, check: ChartCheck | null, says: string, asks: boolean }} now asks: whether the trim is not yet what the chart asks for */
    update({ ready, marked, check, says: why, asks }) {
      const looking = marked !== null && marked.corners === null;
      search.disabled = !ready || looking;
      text(search, marked ? "Find again" : "Find the chart");
      byHand.disabled = !ready;
      attribute(byHand, "hidden", marked !== null);
      attribute(away, "hidden", marked === null);
      text(says, looking ? "Looking for the chart \u2026" : why || (check ? "" : marked ? PUT : HINT));
      attribute(says, "hidden", says.textContent === "");
      attribute(found, "hidden", !check);
      if (check) {
        text(use, asks ? "Use these" : "The trim has these");
        attribute(use, "hidden", check.trim === null);
        use.disabled = !asks;
      }
      if (check === drawn) return;
      drawn = check;
      if (!check) return;
      text(trim, check.trim ? trimSaid(check.trim) : "");
      remarks.replaceChildren(...check.remarks.map((remark) => h("li", {}, remark)));
      attribute(remarks, "hidden", check.remarks.length === 0);
      text(far, differencesSaid(check));
      drawing.show(check);
      body.replaceChildren(...check.patches.flatMap(rowsOf));
    },
  };
}

/** @param {ChartPatch} patch */
function rowsOf({ name, stops, clipped, colours: [published, frame, look], differences }) {
  const swatch = h("i", { class: "chart-swatch", "aria-hidden": "true" });
  swatch.style.setProperty("--published", cssOf(published));
  swatch.style.setProperty("--look", cssOf(look));
  const cells = differences.map((difference) => h("td", {}, difference.toFixed(1)));
  return [
    h("tr", { "data-patch": name }, h("th", { scope: "row" }, swatch, name), h("td", {}, stopsSaid(stops)), ...cells),
    h("tr", { class: "chart-lab" }, h("td", { colspan: 4 }, `${clipped ? "clipped; " : ""}Lab ${labSaid(frame)} \u2192 ${labSaid(look)}`)),
  ];
}
