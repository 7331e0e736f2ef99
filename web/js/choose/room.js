/** For a client in the room: one picture at a time as large as the screen, no controls, the next by key or swipe. */

/** @import { ReelFrame, Shown } from "../../types.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Wish } from "./renderers.js" */

import { h, text } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";

/** @typedef {{ choice: Choice, frame: ReelFrame }} Shot */
/** @typedef {(canvas: HTMLCanvasElement | null, choice: Choice, frame: ReelFrame, space: { width: number, height: number }, put: (shown: Shown) => void) => Wish[]} MakeWish */

/** How far a finger goes for the next one, in CSS pixels. */
const SWIPE = 50;

/** @param {{ onstep: () => void }} wiring */
export function createRoom({ onstep }) {
  /** @type {Shot[]} */
  let shots = [];
  let at = 0;
  let from = 0;
  const canvas = h("canvas", { class: "look-canvas", width: 1, height: 1 });
  const words = h("p", { class: "room-words", role: "status" });
  const el = h("div", { class: "compare-room", tabindex: 0, hidden: true, role: "group", "aria-label": "One picture at a time; the arrows show the next, Escape ends", onkeydown, onpointerdown: begin, onpointerup: end }, canvas, words);

  /** @param {number} by */
  function step(by) {
    at = (at + by + shots.length) % shots.length;
    const shot = shots[at];
    text(words, shot ? `${at + 1} of ${shots.length} \u00b7 ${shot.choice.name}` : "");
    onstep();
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const by = { ArrowRight: 1, ArrowDown: 1, " ": 1, PageDown: 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1 }[event.key];
    if (by) step(by);
    else if (event.key === "Escape") close();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {PointerEvent} event */
  function begin(event) {
    from = event.clientX;
  }

  /** @param {PointerEvent} event */
  function end(event) {
    const way = event.clientX - from;
    if (Math.abs(way) > SWIPE) step(way < 0 ? 1 : -1);
    else if (event.clientX < innerWidth / 3) step(-1);
    else step(1);
  }

  function close() {
    if (el.hidden) return;
    el.hidden = true;
    if (document.fullscreenElement === el) document.exitFullscreen().catch(() => {});
    onstep();
  }
  // Leaving the full screen leaves the room.
  el.addEventListener("fullscreenchange", () => document.fullscreenElement !== el && close());

  return {
    el,
    close,
    isOpen: () => !el.hidden,
    /** @param {Shot[]} next */
    open(next) {
      if (next.length === 0) return;
      shots = next;
      at = 0;
      el.hidden = false;
      el.focus();
      // Where a browser has no full screen, the window is what there is.
      el.requestFullscreen?.().catch(() => {});
      step(0);
    },
    /** @param {MakeWish} wish @returns {Wish[]} what is seen, then what comes next */
    wanted(wish) {
      const space = { width: el.clientWidth, height: el.clientHeight };
      const now = shots[at];
      const seen = now ? wish(canvas, now.choice, now.frame, space, (shown) => paint(canvas, shown)) : [];
      return [...seen, ...shots.filter((shot) => shot !== now).flatMap(({ choice, frame }) => wish(null, choice, frame, space, () => {}))];
    },
  };
}
