/** One look on the wall: its picture on each chosen frame, its name, and what it is for. */

/** @import { Choice } from "../pure/looks/choices.js" */

import { attribute, h, text } from "../ui/dom.js";

/** @typedef {ReturnType<typeof createCell>} Cell */

/** How long a press is before it is a hold, in ms. */
const HOLD = 350;

/**
 * @param {Choice} choice
 * @param {{ ontake: (choice: Choice) => void, onlook: (choice: Choice) => void, onlarge: (choice: Choice | null) => void }} wiring
 *   onlook: it is pointed at or has the focus; onlarge: it is to be seen large, or no longer
 */
export function createCell(choice, { ontake, onlook, onlarge }) {
  let now = choice;
  let state = { frames: 1, on: false, mark: "", problem: /** @type {string | undefined} */ (undefined) };
  let timer = 0;
  let held = false;
  /** A press that was a hold takes nothing. */
  let eaten = false;
  const pictures = h("span", { class: "cell-pictures" });
  const mark = h("span", { class: "cell-mark", hidden: true });
  const name = h("span", { class: "cell-name" });
  const what = h("span", { class: "cell-what" });
  const el = h(
    "button",
    {
      class: "look-cell",
      type: "button",
      tabindex: -1,
      onclick() {
        if (!eaten) ontake(now);
        eaten = false;
      },
      onfocus: () => onlook(now),
      onpointerenter: (/** @type {PointerEvent} */ event) => event.pointerType === "mouse" && onlook(now),
      onpointerdown(/** @type {PointerEvent} */ event) {
        eaten = false;
        if (event.button === 0) timer = setTimeout(hold, HOLD);
      },
      onpointerup: () => letGo(true),
      onpointerleave: () => letGo(false),
      onpointercancel: () => letGo(false),
      oncontextmenu: (/** @type {Event} */ event) => held && event.preventDefault(),
      onkeydown(/** @type {KeyboardEvent} */ event) {
        if (event.key !== " ") return;
        event.preventDefault();
        if (!event.repeat) hold();
      },
      onkeyup(/** @type {KeyboardEvent} */ event) {
        if (event.key !== " ") return;
        event.preventDefault();
        letGo(false);
      },
      onblur: () => letGo(false),
    },
    pictures,
    h("span", { class: "cell-words" }, mark, h("span", {}, name, what)),
  );

  function hold() {
    held = true;
    onlarge(now);
  }

  /** @param {boolean} pressed whether a click follows */
  function letGo(pressed) {
    clearTimeout(timer);
    if (!held) return;
    held = false;
    eaten = pressed;
    onlarge(null);
  }

  return {
    el,
    choice: () => now,
    /** One canvas for each frame. @returns {HTMLCanvasElement[]} */
    canvases: () => /** @type {HTMLCanvasElement[]} */ ([...pictures.children]),
    /** The room of one picture, in CSS pixels. */
    room: () => ({ width: Math.max(1, pictures.clientWidth / Math.max(1, pictures.childElementCount)), height: Math.max(1, pictures.clientHeight) }),

    /**
     * @param {Choice} next
     * @param {{ frames?: number, on?: boolean, mark?: string, problem?: string | undefined }} how what is not named stays
     */
    update(next, how) {
      now = next;
      state = { ...state, ...how };
      const { frames, on, mark: sign, problem } = state;
      while (pictures.childElementCount > frames) pictures.lastElementChild?.remove();
      while (pictures.childElementCount < frames) pictures.append(h("canvas", { class: "look-canvas", width: 1, height: 1 }));
      text(name, next.name);
      text(what, problem ?? next.what);
      attribute(el, "data-kind", next.kind);
      attribute(el, "data-problem", problem !== undefined);
      attribute(el, "aria-current", on ? "true" : undefined);
      attribute(el, "title", next.note || undefined);
      mark.hidden = sign === "";
      text(mark, sign);
    },
  };
}
