/**
 * The wheel of bearings. On its rim stand their places; inside, what they do: round the middle is the
 * turn, away from it the purity. Each handle takes arrow keys; the numbers are folded below.
 */

/** @import { NumberControl, Place, StepEntry, StepSettings } from "../../../types.js" */
/** @import { Edits } from "../../session/edits.js" */
/** @import { Bearing, Wheel } from "../../pure/pads.js" */
/** @import { PlacedRow } from "../path/step.js" */
/** @import { Handle } from "./pad-field.js" */

import { WHEEL, fromRing, fromWheel, onRing, onWheel } from "../../pure/pads.js";
import { finer, fromPosition, tidy, toPosition } from "../../pure/scale.js";
import { numberOf, valueOf } from "../../pure/settings.js";
import { spoken } from "../../pure/summary.js";
import { attribute, h, newId, svg, text } from "../dom.js";
import { createPadField } from "./pad-field.js";

/** What a key changes, in steps: across, and up. @type {Record<string, [across: number, up: number]>} */
const KEYS = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1], PageUp: [0, 10], PageDown: [0, -10] };
/** How far a bearing reaches to either side, in degrees: as the step's own words have it. */
const REACH = 60;
const HINT = "On the rim: where it acts. Inside: round turns hues, outwards makes them purer.";

/** A handle that takes keys as well. @typedef {Handle & { keyed: (steps: [across: number, up: number], settings: StepSettings, fine: boolean) => [control: string, value: number][], show: (settings: StepSettings) => void }} Keyed */

/**
 * @param {Wheel} wheel
 * @param {StepEntry} step
 * @param {(control: string) => Place} place
 * @param {Edits} edits
 * @returns {PlacedRow}
 */
export function createWheel({ bearings }, step, place, edits) {
  const number = numberOf(step);
  const made = bearings.map((bearing, i) => createBearing(bearing, String(i + 1), number));
  const all = made.flatMap(({ handles }) => handles);
  const keys = h("span", { class: "unseen", id: newId() }, "Left and right: turn. Up and down: purity. Delete puts both back.");
  const field = createPadField({ kind: "wheel", handles: all, place, edits, initial: (id) => number(id).default, onhold: ({ el }) => el.focus({ preventScroll: true }) });
  const neutral = WHEEL.least + (WHEEL.most - WHEEL.least) * toPosition(purityOf(bearings, number), 1);
  const drawn = svg(
    "svg",
    { class: "wheel-drawn", viewBox: "-100 -100 200 200", "aria-hidden": "true" },
    svg("circle", { class: "wheel-as-it-is", r: 100 * neutral }),
    ...made.map(({ drawn }) => drawn),
  );
  field.el.prepend(drawn);
  const readout = h("p", { class: "wheel-readout" }, HINT);
  const fold = h("button", { class: "wheel-fold", type: "button", "aria-expanded": "false", onclick: () => unfold(fold.getAttribute("aria-expanded") === "false") }, "Numbers");
  const el = h("div", { class: "pad-row wheel", role: "group", "aria-label": `${step.label} on the circle of hues` }, field.el, h("div", { class: "wheel-words" }, readout, fold, keys));
  /** @type {StepSettings} */
  let settings = {};
  let off = false;

  made.forEach(({ handles: [, way] }) => attribute(way.el, "aria-describedby", keys.id));
  for (const handle of all) handle.el.addEventListener("keydown", (event) => onkeydown(event, handle));
  el.addEventListener("keyup", edits.rest);
  field.el.addEventListener("focusin", read);
  field.el.addEventListener("focusout", read);

  /** @param {boolean} open */
  function unfold(open) {
    attribute(fold, "aria-expanded", open ? "true" : "false");
  }

  /** Says what the bearing that has the focus does, and shows how far it reaches. */
  function read() {
    const held = made.find(({ handles }) => handles.some((handle) => handle.el === document.activeElement));
    for (const it of made) attribute(it.drawn, "data-held", it === held);
    text(readout, held ? held.said(settings) : HINT);
  }

  /** @param {KeyboardEvent} event @param {Keyed} handle */
  function onkeydown(event, handle) {
    if (off || event.ctrlKey || event.metaKey || event.altKey) return;
    const steps = KEYS[event.key];
    if (steps) edits.setValues(handle.keyed(steps, settings, event.shiftKey).map(([control, value]) => [place(control), value]), true);
    else if (event.key === "Delete" || event.key === "Backspace") field.reset(handle);
    else return;
    event.preventDefault();
  }

  return {
    el,
    of: all.flatMap((handle) => handle.of),
    update(next, nextOff) {
      [settings, off] = [next, nextOff];
      attribute(el, "data-off", off);
      field.update(settings, off);
      for (const handle of all) {
        attribute(handle.el, "aria-disabled", off ? "true" : undefined);
        handle.el.tabIndex = off ? -1 : 0;
        handle.show(settings);
      }
      for (const it of made) it.draw(settings);
      read();
    },
  };
}

/** @param {Bearing[]} bearings @param {(id: string) => NumberControl} number */
function purityOf([first], number) {
  if (!first) throw new Error("a wheel without bearings");
  return number(first.purity);
}

/**
 * A bearing: the place where it acts, on the rim, and the way that it brings its colours, inside.
 * @param {Bearing} bearing
 * @param {string} name
 * @param {(id: string) => NumberControl} number
 */
function createBearing(bearing, name, number) {
  const [hue, turn, purity] = [number(bearing.hue), number(bearing.turn), number(bearing.purity)];
  const read = (/** @type {StepSettings} */ settings) => ({ hue: Number(valueOf(settings, hue)), turn: Number(valueOf(settings, turn)), purity: Number(valueOf(settings, purity)) });
  const inside = (/** @type {StepSettings} */ settings) => ({ hue: read(settings).hue, turn: read(settings).turn, share: toPosition(purity, read(settings).purity) });
  const does = (/** @type {StepSettings} */ settings) => `turn ${spoken(turn, read(settings).turn)}, purity ${spoken(purity, read(settings).purity)}`;
  const slider = (/** @type {string} */ label, /** @type {string} */ kind, /** @type {NumberControl} */ { min, max }) =>
    h("span", { class: `wheel-handle wheel-${kind}`, role: "slider", tabindex: 0, title: label, "aria-label": label, "aria-valuemin": min, "aria-valuemax": max }, h("i", {}, name));

  /** @type {Keyed} */
  const stands = {
    el: slider(`${hue.label}: place`, "place", hue),
    of: [hue.id],
    at: (settings) => halved(onRing(read(settings).hue, WHEEL.rim)),
    to: (point, settings, fine) => [[hue.id, onGrid(fine ? finer(hue) : hue, fromRing(doubled(point), read(settings).hue).hue)]],
    // Past the last degree it goes on with the first.
    keyed: ([across, up], settings, fine) => [[hue.id, tidy(hue, (((read(settings).hue + (across + up) * (fine ? finer(hue) : hue).step) % 360) + 360) % 360)]],
    show(settings) {
      attribute(stands.el, "aria-valuenow", read(settings).hue);
      attribute(stands.el, "aria-valuetext", spoken(hue, read(settings).hue));
    },
  };
  /** @type {Keyed} */
  const brings = {
    el: slider(`${hue.label}: turn and purity`, "way", turn),
    of: [turn.id, purity.id],
    at: (settings) => halved(onWheel(inside(settings))),
    to(point, settings, fine) {
      const found = fromWheel(doubled(point), read(settings).hue);
      return [
        [turn.id, onGrid(fine ? finer(turn) : turn, found.turn)],
        [purity.id, fromPosition(fine ? finer(purity) : purity, found.share)],
      ];
    },
    keyed([across, up], settings, fine) {
      const now = read(settings);
      return [
        [turn.id, tidy(turn, now.turn + across * (fine ? finer(turn) : turn).step)],
        [purity.id, tidy(purity, now.purity + up * (fine ? finer(purity) : purity).step)],
      ];
    },
    show(settings) {
      attribute(brings.el, "aria-valuenow", read(settings).turn);
      attribute(brings.el, "aria-valuetext", does(settings));
    },
  };

  const reach = svg("path", { class: "wheel-reach" });
  const spoke = svg("path", { class: "wheel-spoke" });
  const way = svg("path", { class: "wheel-line" });
  return {
    handles: /** @type {[Keyed, Keyed]} */ ([stands, brings]),
    drawn: svg("g", {}, reach, spoke, way),
    said: (/** @type {StepSettings} */ settings) => `${hue.label} at ${spoken(hue, read(settings).hue)}: ${does(settings)}`,
    /** @param {StepSettings} settings */
    draw(settings) {
      const now = read(settings);
      const neutral = { hue: now.hue, turn: 0, share: toPosition(purity, purity.neutral) };
      reach.setAttribute("d", sector(now.hue - REACH, now.hue + REACH));
      spoke.setAttribute("d", `M${drawnAt(onRing(now.hue, WHEEL.rim))}L${drawnAt(onWheel(neutral))}`);
      way.setAttribute("d", `M${drawnAt(onWheel(neutral))}L${drawnAt(onWheel(inside(settings)))}`);
    },
  };
}

/** @typedef {{ x: number, y: number }} Point */
const halved = (/** @type {Point} */ { x, y }) => ({ x: (x + 1) / 2, y: (y + 1) / 2 });
const doubled = (/** @type {Point} */ { x, y }) => ({ x: 2 * x - 1, y: 2 * y - 1 });
const drawnAt = (/** @type {Point} */ { x, y }) => `${(100 * x).toFixed(2)} ${(-100 * y).toFixed(2)}`;
const onGrid = (/** @type {NumberControl} */ control, /** @type {number} */ value) => fromPosition(control, toPosition(control, value));

/** @param {number} from degrees @param {number} to less than half a turn on */
function sector(from, to) {
  const corner = (/** @type {number} */ hue, /** @type {number} */ far) => drawnAt(onRing(hue, far));
  const arc = (/** @type {number} */ far) => `A${100 * far} ${100 * far} 0 0`;
  return `M${corner(from, WHEEL.least)}L${corner(from, WHEEL.most)}${arc(WHEEL.most)} 0 ${corner(to, WHEEL.most)}L${corner(to, WHEEL.least)}${arc(WHEEL.least)} 1 ${corner(from, WHEEL.least)}Z`;
}
