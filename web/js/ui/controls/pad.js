/**
 * One pad where a colour has two dimensions: a plane of two controls, or a ring by hue and strength.
 * Both controls have a rail of their own beside it, for keys and readers; the pad is for the hand.
 */

/** @import { NumberControl, Place, StepEntry, StepSettings } from "../../../types.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Plane, Ring } from "../../pure/pads.js" */
/** @import { PlacedRow } from "../path/step.js" */

import { fromRing, onRing } from "../../pure/pads.js";
import { finer, fromPosition, toPosition } from "../../pure/scale.js";
import { valueOf } from "../../pure/settings.js";
import { attribute, h } from "../dom.js";

/** A handle: where it stands, and what it sets when it is brought elsewhere; x and y 0 ... 1, y upwards. */
/** @typedef {{ el: HTMLElement, of: string[], at: (settings: StepSettings) => { x: number, y: number }, to: (place: { x: number, y: number }, settings: StepSettings, fine: boolean) => [control: string, value: number][] }} Handle */

/**
 * @param {Plane | Ring} pad
 * @param {StepEntry} step
 * @param {(control: string) => Place} place
 * @param {Edits} edits
 * @returns {PlacedRow}
 */
export function createPad(pad, step, place, edits) {
  const number = (/** @type {string} */ id) => /** @type {NumberControl} */ (step.controls.find((control) => control.id === id));
  const handles = pad.kind === "plane" ? [planeHandle(number(pad.x), number(pad.y))] : pad.handles.map(({ hue, amount, label }) => ringHandle(number(hue), number(amount), label));
  const field = h("div", { class: `pad pad-${pad.kind === "plane" ? pad.colours : "ring"}`, onpointerdown, ondblclick }, ...handles.map(({ el }) => el));
  const words = pad.kind === "plane" ? pad.words.map((word, i) => h("span", { class: `pad-word pad-word-${["left", "right", "below", "above"][i]}` }, word)) : [];
  field.prepend(...words);
  const el = h("div", { class: "pad-row", "aria-hidden": "true" }, field);
  /** @type {StepSettings} */
  let settings = {};
  let off = false;

  /** @param {{ clientX: number, clientY: number }} event */
  function at({ clientX, clientY }) {
    const box = field.getBoundingClientRect();
    return { x: (clientX - box.left) / box.width, y: 1 - (clientY - box.top) / box.height };
  }

  /** @param {{ x: number, y: number }} point @returns {Handle} the nearest one */
  function nearest(point) {
    const far = (/** @type {Handle} */ handle) => {
      const { x, y } = handle.at(settings);
      return Math.hypot(x - point.x, y - point.y);
    };
    return handles.reduce((best, handle) => (far(handle) < far(best) ? handle : best));
  }

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    if (off || event.button !== 0) return;
    event.preventDefault();
    const handle = nearest(at(event));
    // It is taken hold of where it stands: a press alone moves nothing.
    let [pointer, stands] = [at(event), handle.at(settings)];
    field.setPointerCapture(event.pointerId);
    const end = new AbortController();
    field.addEventListener(
      "pointermove",
      (move) => {
        const next = at(move);
        const by = move.shiftKey ? 0.1 : 1;
        stands = { x: stands.x + (next.x - pointer.x) * by, y: stands.y + (next.y - pointer.y) * by };
        pointer = next;
        edits.setValues(handle.to(stands, settings, move.shiftKey).map(([control, value]) => [place(control), value]), true);
      },
      { signal: end.signal },
    );
    const stop = () => (end.abort(), edits.rest());
    field.addEventListener("pointerup", stop, { signal: end.signal });
    field.addEventListener("pointercancel", stop, { signal: end.signal });
  }

  /** @param {MouseEvent} event */
  function ondblclick(event) {
    if (off) return;
    const handle = nearest(at(event));
    edits.setValues(handle.of.map((id) => [place(id), number(id).default]), false);
    edits.rest();
  }

  return {
    el,
    of: handles.flatMap((handle) => handle.of),
    update(next, nextOff) {
      [settings, off] = [next, nextOff];
      attribute(el, "data-off", off);
      for (const handle of handles) {
        const { x, y } = handle.at(settings);
        handle.el.style.setProperty("--x", String(x));
        handle.el.style.setProperty("--y", String(y));
      }
    },
  };
}

/**
 * @param {NumberControl} across
 * @param {NumberControl} up
 * @returns {Handle}
 */
function planeHandle(across, up) {
  const held = (/** @type {number} */ it) => Math.min(1, Math.max(0, it));
  return {
    el: h("span", { class: "pad-handle" }),
    of: [across.id, up.id],
    at: (settings) => ({ x: toPosition(across, Number(valueOf(settings, across))), y: toPosition(up, Number(valueOf(settings, up))) }),
    to: ({ x, y }, _, fine) => [
      [across.id, fromPosition(fine ? finer(across) : across, held(x))],
      [up.id, fromPosition(fine ? finer(up) : up, held(y))],
    ],
  };
}

/**
 * @param {NumberControl} hue
 * @param {NumberControl} amount
 * @param {string} label
 * @returns {Handle}
 */
function ringHandle(hue, amount, label) {
  return {
    el: h("span", { class: `pad-handle pad-handle-${label.toLowerCase()}`, title: label }),
    of: [hue.id, amount.id],
    at(settings) {
      const { x, y } = onRing(Number(valueOf(settings, hue)), Number(valueOf(settings, amount)));
      return { x: (x + 1) / 2, y: (y + 1) / 2 };
    },
    to({ x, y }, settings, fine) {
      const found = fromRing({ x: 2 * x - 1, y: 2 * y - 1 }, Number(valueOf(settings, hue)));
      return [
        [hue.id, fromPosition(hue, toPosition(hue, found.hue))],
        [amount.id, fromPosition(fine ? finer(amount) : amount, toPosition(amount, found.amount))],
      ];
    },
  };
}
