/**
 * One pad where a colour has two dimensions: a plane of two controls, or a ring by hue and strength.
 * Both controls have a rail of their own beside it, for keys and readers; the pad is for the hand.
 */

/** @import { NumberControl, Place, StepEntry } from "../../../types.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Plane, Ring } from "../../pure/pads.js" */
/** @import { PlacedRow } from "../path/step.js" */
/** @import { Handle } from "./pad-field.js" */

import { fromRing, onRing } from "../../pure/pads.js";
import { finer, fromPosition, toPosition } from "../../pure/scale.js";
import { numberOf, valueOf } from "../../pure/settings.js";
import { attribute, h } from "../dom.js";
import { createPadField } from "./pad-field.js";

/**
 * @param {Plane | Ring} pad
 * @param {StepEntry} step
 * @param {(control: string) => Place} place
 * @param {Edits} edits
 * @returns {PlacedRow}
 */
export function createPad(pad, step, place, edits) {
  const number = numberOf(step);
  const handles = pad.kind === "plane" ? [planeHandle(number(pad.x), number(pad.y))] : pad.handles.map(({ hue, amount, label }) => ringHandle(number(hue), number(amount), label));
  const field = createPadField({ kind: pad.kind === "plane" ? pad.colours : "ring", handles, place, edits, initial: (id) => number(id).default });
  const words = pad.kind === "plane" ? pad.words.map((word, i) => h("span", { class: `pad-word pad-word-${["left", "right", "below", "above"][i]}` }, word)) : [];
  field.el.prepend(...words);
  const el = h("div", { class: "pad-row", "aria-hidden": "true" }, field.el);
  return {
    el,
    of: handles.flatMap((handle) => handle.of),
    update(settings, off) {
      attribute(el, "data-off", off);
      field.update(settings, off);
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
