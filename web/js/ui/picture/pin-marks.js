/** Where pins stand on the picture: their numbers, which take no clicks. */

/** @import { Box, Size, State } from "../../../types.js" */

import { within } from "../../pure/pins.js";
import { h } from "../dom.js";

export function createPinMarks() {
  const el = h("div", { class: "pin-marks", "aria-hidden": "true" });
  return {
    el,
    /**
     * @param {State} state
     * @param {Size} whole the picture's
     * @param {Box} box where it lies, in the same place as `el`
     */
    update({ pins, panel, bare }, whole, box) {
      const shown = panel === "instruments" && !bare ? pins : [];
      while (el.childElementCount > shown.length) el.lastElementChild?.remove();
      shown.forEach((pin, i) => {
        const { x, y } = within(pin, whole);
        const mark = /** @type {HTMLElement} */ (el.children[i] ?? el.appendChild(h("b", { class: "pin-name" }, String(i + 1))));
        mark.style.left = `${box.x + ((x + 0.5) / whole.width) * box.width}px`;
        mark.style.top = `${box.y + ((y + 0.5) / whole.height) * box.height}px`;
      });
    },
  };
}
