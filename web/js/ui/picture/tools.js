/** The strip under the picture: the reel, the zoom, and the instruments' switch. */

/** @import { Size, State, View } from "../../../types.js" */

import { scaleOf } from "../../pure/viewport.js";
import { attribute, h, text } from "../dom.js";
import { icon } from "../icons.js";

/**
 * @param {{ onzoom: (devicePixels: number) => void, oninstruments: () => void, density: () => number, paneSize: () => Size }} wiring
 */
export function createTools({ onzoom, oninstruments, density, paneSize }) {
  const zooms = [
    { label: "Fit", scale: 0 },
    { label: "1:1", scale: 1 },
    { label: "200 %", scale: 2 },
  ];
  const buttons = zooms.map(({ label, scale }) =>
    h("button", { class: "segment-button", type: "button", onclick: () => onzoom(scale) }, label),
  );
  const percent = h("output", { class: "zoom-percent", "aria-label": "Zoom" });
  const instruments = h(
    "button",
    { class: "pill pill-quiet", type: "button", onclick: oninstruments, "aria-label": "Instruments", title: "Instruments" },
    icon("scopes"),
    h("span", {}, "Instruments"),
  );
  return {
    el: h(
      "div",
      { class: "tools" },
      h("div", { class: "zooms", role: "group", "aria-label": "Zoom" }, ...buttons, percent),
      instruments,
    ),
    /**
     * @param {State} state
     * @param {Size | null} size of the picture
     */
    update({ view, instruments: shown }, size) {
      attribute(instruments, "aria-pressed", shown ? "true" : "false");
      if (!size) return;
      const pixels = scaleOf(view, size, paneSize()) * density();
      text(percent, `${Math.round(pixels * 100)} %`);
      zooms.forEach(({ scale }, i) => {
        const pressed = isAt(view, scale, pixels);
        attribute(/** @type {Element} */ (buttons[i]), "aria-pressed", pressed ? "true" : "false");
      });
    },
  };
}

/**
 * @param {View} view
 * @param {number} scale 0 for fit
 * @param {number} pixels device pixels per picture pixel
 */
function isAt(view, scale, pixels) {
  return scale === 0 ? view.scale === "fit" : view.scale !== "fit" && Math.abs(pixels - scale) < 0.005;
}
