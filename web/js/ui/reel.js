/** The reel: every frame being worked on, each as the look makes it. */

/** @import { FrameId, ReelFrame, State } from "../../types.js" */

import { attribute, h } from "./dom.js";
import { icon } from "./icons.js";

/**
 * @param {{ onchoose: (id: FrameId) => void, onremove: (id: FrameId) => void, onadd: () => void }} wiring
 */
export function createReel({ onchoose, onremove, onadd }) {
  /** @type {Map<FrameId, { el: HTMLElement, thumb: HTMLCanvasElement, button: HTMLButtonElement }>} */
  const tiles = new Map();
  const add = h("button", { class: "reel-add", type: "button", "aria-label": "Add frames", title: "Add frames", onclick: onadd }, icon("add"));
  const list = h("ul", { class: "reel-list" });
  const el = h("div", { class: "reel", role: "group", "aria-label": "Reel" }, list, add);
  /** @type {readonly ReelFrame[] | null} */
  let shown = null;

  /** @param {ReelFrame} frame */
  function make(frame) {
    const thumb = h("canvas", { class: "thumb", width: 3, height: 2, "aria-hidden": "true" });
    const title = frame.credit ? `${frame.name}\n${frame.credit}` : frame.name;
    const button = h("button", { class: "reel-frame", type: "button", title, "aria-label": frame.clip ? `${frame.name}, a clip` : frame.name, onclick: () => onchoose(frame.id) }, thumb);
    if (frame.clip) button.append(h("span", { class: "reel-clip" }, icon("play")));
    const away = h("button", { class: "reel-away", type: "button", "aria-label": `Take ${frame.name} off the reel`, title: "Take off the reel", onclick: () => onremove(frame.id) }, icon("close"));
    return { el: h("li", {}, button, away), thumb, button };
  }

  return {
    el,
    /** @param {FrameId} id */
    thumb: (id) => tiles.get(id)?.thumb ?? null,
    /** @param {State} state */
    update({ reel, current }) {
      if (reel !== shown) {
        shown = reel;
        const kept = new Set(reel.map((frame) => frame.id));
        for (const [id, tile] of tiles) {
          if (kept.has(id)) continue;
          tile.el.remove();
          tiles.delete(id);
        }
        for (const frame of reel) {
          const tile = tiles.get(frame.id) ?? make(frame);
          tiles.set(frame.id, tile);
          list.append(tile.el);
        }
      }
      for (const [id, { button, el: item }] of tiles) {
        attribute(button, "aria-current", id === current ? "true" : undefined);
        attribute(item, "data-current", id === current);
      }
    },
  };
}
