/** The picture pane: two sides and a wipe between them, each side a preview and a sharp detail. */

/** @import { Box, Shown, Size, State, View } from "../../../types.js" */

import { placed } from "../../pure/viewport.js";
import { attribute, h } from "../dom.js";
import { createSide } from "./side.js";

/** @typedef {"before" | "after"} SideName */
/** @typedef {ReturnType<typeof createPicture>} Picture */

/**
 * @param {{ onresize: () => void, onwipe: (wipe: number) => void }} wiring
 */
export function createPicture({ onresize, onwipe }) {
  const sides = { before: createSide("before"), after: createSide("after") };
  const hint = h("span", { class: "wipe-hint", hidden: true }, "drag to compare");
  const divider = h("div", {
    class: "wipe",
    role: "slider",
    tabindex: 0,
    "aria-label": "Wipe between the two sides",
    "aria-valuemin": 0,
    "aria-valuemax": 100,
    onkeydown,
  }, h("span", { class: "wipe-grip" }), hint);
  const opening = h("div", { class: "opening" }, sides.before.el, sides.after.el, divider);
  const pane = h("div", { class: "pane", tabindex: 0, role: "group", "aria-label": "Picture", "aria-busy": "true" }, opening);
  /** @type {Size} */
  let paneSize = { width: 1, height: 1 };
  let wipe = 0;

  new ResizeObserver(([entry]) => {
    if (!entry) return;
    paneSize = { width: entry.contentRect.width, height: entry.contentRect.height };
    onresize();
  }).observe(pane);

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const by = event.shiftKey ? 0.1 : 0.01;
    const next = {
      ArrowLeft: wipe - by,
      ArrowDown: wipe - by,
      ArrowRight: wipe + by,
      ArrowUp: wipe + by,
      PageDown: wipe - 0.1,
      PageUp: wipe + 0.1,
      Home: 0,
      End: 1,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    onwipe(next);
  }

  return {
    el: pane,
    opening,
    divider,
    /** Of the pane, in CSS pixels. */
    paneSize: () => paneSize,
    /** @param {boolean} busy whether what is shown is not yet what is wanted */
    busy: (busy) => attribute(pane, "aria-busy", busy ? "true" : "false"),

    /** Says what the line is for, until it has been moved. */
    hint() {
      hint.hidden = false;
    },

    density: () => Math.min(3, window.devicePixelRatio || 1),

    /**
     * @param {SideName} side
     * @param {Shown} shown
     */
    show: (side, shown) => sides[side].preview(shown),

    /**
     * @param {SideName} side
     * @param {Shown | null} shown
     * @param {Box | null} part of the picture, in picture pixels
     * @param {Size} whole
     */
    detail: (side, shown, part, whole) => sides[side].detail(shown, part, whole),

    /**
     * @param {View} view
     * @param {Size | null} size of the picture
     * @param {State} state
     */
    update(view, size, state) {
      attribute(pane, "data-empty", size === null);
      if (!size) return;
      if (view.wipe !== wipe) hint.hidden = true;
      wipe = view.wipe;
      const box = placed(view, size, paneSize);
      const left = Math.max(0, box.x);
      const top = Math.max(0, box.y);
      const frame = {
        "--left": left,
        "--top": top,
        "--width": Math.min(paneSize.width, box.x + box.width) - left,
        "--height": Math.min(paneSize.height, box.y + box.height) - top,
        "--whole-left": box.x - left,
        "--whole-top": box.y - top,
        "--whole-width": box.width,
        "--whole-height": box.height,
        "--wipe": view.wipe,
      };
      for (const [name, value] of Object.entries(frame)) opening.style.setProperty(name, String(value));
      const percent = Math.round(view.wipe * 100);
      attribute(divider, "aria-valuenow", percent);
      attribute(divider, "aria-valuetext", `${percent} % of the width`);
      attribute(pane, "data-zoomed", view.scale !== "fit");
      const name = state.reel.find((frame_) => frame_.id === state.current)?.name ?? "";
      attribute(pane, "aria-label", `Picture ${name}`);
    },
  };
}
