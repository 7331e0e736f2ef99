/** The reel: every frame being worked on, each as the look makes it, with how far it is. */

/** @import { FrameId, ReelFrame, State } from "../../types.js" */

import { onReel } from "../pure/history.js";
import { attribute, h, text } from "./dom.js";
import { icon } from "./icons.js";
import { addScrolling } from "./reel-scroll.js";

/** What each tile is made of. @typedef {{ el: HTMLElement, thumb: HTMLCanvasElement, button: HTMLButtonElement, sign: HTMLElement, count: HTMLElement, painted: boolean, seen: boolean }} Tile */

/**
 * @param {{ onchoose: (id: FrameId) => void, onremove: (id: FrameId) => void, onadd: () => void, onphotograph: () => void,
 *   onseen: () => void }} wiring onseen: other tiles are in view now
 */
export function createReel({ onchoose, onremove, onadd, onphotograph, onseen }) {
  /** @type {Map<FrameId, Tile>} */
  const tiles = new Map();
  const add = h("button", { class: "reel-add", type: "button", "aria-label": "Add frames", title: "Add frames", onclick: onadd }, icon("add"));
  const photograph = h("button", { class: "reel-add reel-camera", type: "button", "aria-label": "Take a photo", title: "Take a photo", onclick: onphotograph }, icon("camera"));
  const list = h("ul", { class: "reel-list", "aria-label": "Frames" });
  const el = h("div", { class: "reel", role: "group", "aria-label": "Reel" }, list, add, photograph);
  const follow = addScrolling(list);
  /** @type {State["reel"] | null} */
  let shown = null;
  /** @type {FrameId | null} */
  let last = null;

  const seen = new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) for (const tile of tiles.values()) if (tile.el === target) tile.seen = isIntersecting;
      onseen();
    },
    { root: list, rootMargin: "0px 200px" },
  );

  /** @param {ReelFrame} frame @returns {Tile} */
  function make(frame) {
    const thumb = h("canvas", { class: "thumb", width: 3, height: 2, "aria-hidden": "true" });
    const sign = h("span", { class: "reel-sign", hidden: true });
    const button = h("button", { class: "reel-frame", type: "button", onclick: () => onchoose(frame.id) }, thumb, sign);
    const count = h("span", {});
    if (frame.clip) button.append(h("span", { class: "reel-clip", "aria-hidden": "true" }, icon("play"), count));
    const away = h("button", { class: "reel-away", type: "button", "aria-label": `Take ${frame.name} off the reel`, title: "Take off the reel", onclick: () => onremove(frame.id) }, icon("close"));
    const tile = { el: h("li", {}, button, away), thumb, button, sign, count, painted: false, seen: false };
    thumb.addEventListener("painted", () => (tile.painted = true));
    seen.observe(tile.el);
    return tile;
  }

  /** @param {Tile} tile @param {ReelFrame} frame */
  function dress({ el: item, button, sign, count }, frame) {
    const { said, more } = signWords(frame);
    const state = more ? `${said}: ${more}` : said;
    attribute(button, "aria-label", [frame.name, ...(frame.clip ? [clipWords(frame.clip)] : []), ...(state ? [state] : [])].join(", "));
    attribute(button, "title", [frame.name, state, frame.credit].filter(Boolean).join("\n"));
    attribute(item, "data-stage", frame.stage);
    attribute(item, "data-kept", frame.kept);
    // One tile stands for all frames of a clip.
    text(count, frame.clip && frame.clip.frames > 1 ? String(frame.clip.frames) : "");
    sign.hidden = said === "";
    text(sign, said);
  }

  return {
    el,
    /** @param {FrameId} id @returns {HTMLCanvasElement | null} where its small picture goes, if that is in view */
    thumb(id) {
      const tile = tiles.get(id);
      return tile?.seen ? tile.thumb : null;
    },
    /** @param {FrameId} id @returns {HTMLCanvasElement | null} its small picture, if there is one */
    painted(id) {
      const tile = tiles.get(id);
      return tile?.painted ? tile.thumb : null;
    },
    /** @param {State} state */
    update({ reel, history, current, reading }) {
      const frames = onReel(reel, history.present);
      if (frames !== shown) {
        shown = frames;
        const kept = new Set(frames.map((frame) => frame.id));
        for (const [id, tile] of tiles) {
          if (kept.has(id)) continue;
          seen.unobserve(tile.el);
          tile.el.remove();
          tiles.delete(id);
        }
        frames.forEach((frame, i) => {
          const tile = tiles.get(frame.id) ?? make(frame);
          tiles.set(frame.id, tile);
          dress(tile, frame);
          // Moving an element would take the focus from it.
          if (list.children[i] !== tile.el) list.insertBefore(tile.el, list.children[i] ?? null);
        });
      }
      for (const [id, { button, el: item }] of tiles) {
        attribute(button, "aria-current", id === current ? "true" : undefined);
        attribute(item, "data-current", id === current);
      }
      const tile = reading ? tiles.get(reading.id) : undefined;
      if (reading && tile?.el.dataset["stage"] === "opening") text(tile.sign, readingWords(reading.share));
      if (current === last) return;
      last = current;
      const shownTile = current === null ? null : tiles.get(current);
      if (shownTile) follow(shownTile.el);
    },
  };
}

/**
 * What stands on the tile itself, and what is said besides.
 * @param {ReelFrame} frame
 * @returns {{ said: string, more?: string | undefined }}
 */
function signWords({ stage, reason, kept, keptWhy }) {
  if (stage === "failed") return { said: "failed", more: reason };
  if (stage === "named") return { said: "waits" };
  if (stage === "opening") return { said: "opening" };
  return kept === "no" ? { said: "not kept", more: keptWhy } : { said: "" };
}

/** @param {import("../../types.js").ClipFrames} clip */
const clipWords = ({ frames, number }) => (frames > 1 ? `a clip, frame ${number + 1} of ${frames}` : "a clip");

/** @param {number} share of the file, 0 ... 1 */
const readingWords = (share) => (share < 1 ? `reading ${Math.floor(100 * share)}\u00a0%` : "decoding");
