/** Test strips: the frame with one setting in steps, side by side; one press takes one. */

/** @import { Catalogue, Doc, Place, ReelFrame } from "../../types.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Cell } from "./cell.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { renderSettings } from "../picture/render-settings.js";
import { WIDTHS, exposureStrips, stripPlaces, stripsOf } from "../pure/looks/strips.js";
import { findStage, findStep, isOn, stageSettings, stepSettings, valueOf, withValue } from "../pure/settings.js";
import { h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { createCell } from "./cell.js";
import { createGallery } from "./gallery.js";

/** The frame's own exposure, which a darkroom's first strip is about. @type {Place} */
const EXPOSURE = { stage: "intake", step: "trim", control: "exposure" };

/** @param {{ catalogue: Catalogue, store: Store, edits: Edits, renderers: Renderers }} wiring */
export function createStrips({ catalogue, store, edits, renderers }) {
  /** @type {{ cell: Cell, doc: Doc, value: import("../../types.js").Value }[]} */
  let strips = [];
  /** @type {Choice | null} */
  let large = null;

  const groups = stripPlaces(catalogue);
  const places = groups.flatMap((group) => group.places);
  const menu = h(
    "select",
    { class: "pill pill-menu strips-menu", "aria-label": "What changes from strip to strip", onchange: show },
    h("option", { value: "stops" }, "Exposure, \u22123 to +3 stops"),
    ...groups.map(({ label, places: own }) => h("optgroup", { label }, ...own.map((place) => h("option", { value: String(places.indexOf(place)) }, `${place.control.label}, ${label.replace(/^.*: /, "")}`)))),
  );
  const width = h("select", { class: "pill pill-menu", "aria-label": "How far apart", onchange: show }, ...Object.keys(WIDTHS).map((id) => h("option", { value: id, selected: id === "usual" }, `${id} steps`)));
  const gallery = createGallery({ renderers, wanted, onchange: tell });
  const sheet = createSheet({ title: "Test strips", kind: "wall strips", tools: [menu, width], onclose: () => sheet.isOpen() || gallery.close() });
  const grid = h("div", { class: "strips-grid", role: "group", "aria-label": "Strips", onkeydown });
  const largeCanvas = h("canvas", { class: "look-canvas", width: 1, height: 1 });
  const largeName = h("p", {});
  const over = h("div", { class: "wall-large", hidden: true }, largeCanvas, largeName);
  const words = h("p", { class: "quiet", role: "status" });
  sheet.body.append(grid, over);
  sheet.el.append(h("div", { class: "wall-foot" }, h("p", { class: "wall-hints" }, "Press a strip to take it; hold it to see it large."), words));
  new ResizeObserver(() => gallery.work()).observe(grid);

  const present = () => store.get().history.present;
  /** @returns {ReelFrame | null} */
  const frame = () => store.get().reel.find(({ id }) => id === store.get().current) ?? null;

  /** What the menu says: a place, and its strips. */
  function chosen() {
    const found = places[Number(menu.value)];
    const place = found ? { stage: found.stage, step: found.step, control: found.control.id } : EXPOSURE;
    const step = findStep(findStage(catalogue, place.stage), place.step);
    const settings = stepSettings(stageSettings(present(), place.stage, store.get().current), place.step);
    const control = found?.control ?? step.controls.find(({ id }) => id === EXPOSURE.control);
    if (!control) return { place, step, strips: [], off: false };
    const value = valueOf(settings, control);
    const apart = WIDTHS[/** @type {keyof typeof WIDTHS} */ (width.value)];
    const values = !found && control.kind === "number" ? exposureStrips(control, /** @type {number} */ (value)) : stripsOf(control, value, apart);
    return { place, step, strips: values, off: !isOn(settings, step) };
  }

  function show() {
    const { place, step, strips: values, off } = chosen();
    const { current } = store.get();
    width.hidden = menu.value === "stops";
    // A step that is off is seen as if it were on, and taking a strip puts it on.
    const base = off ? withValue(catalogue, present(), current, { ...place, control: "on" }, true) : present();
    strips = values.map(({ value, label, present: is }) => {
      const doc = withValue(catalogue, base, current, place, value);
      /** @type {Choice} */
      const choice = { id: `strip ${label}`, kind: "library", name: label, what: is ? (off ? `now, with ${step.label.toLowerCase()} off` : "now") : "", note: "", look: doc.look, colour: true };
      const cell = createCell(choice, { ontake: () => take(place, value, off), onlook: () => {}, onlarge: seeLarge });
      cell.el.tabIndex = 0;
      cell.update(choice, { on: is && !off });
      return { cell, doc, value };
    });
    gallery.clear();
    grid.replaceChildren(...strips.map(({ cell }) => cell.el));
    tell();
    gallery.work();
  }

  /** @returns {Wish[]} */
  function wanted() {
    const now = frame();
    if (!now) return [];
    const settings = (/** @type {Doc} */ doc) => renderSettings(doc, now.id);
    const held = strips.find(({ cell }) => large !== null && cell.choice().id === large.id);
    const room = { width: sheet.body.clientWidth, height: sheet.body.clientHeight };
    const wishes = held && large ? gallery.wish(largeCanvas, large.id, now, room, settings(held.doc), "large") : [];
    for (const { cell, doc } of strips) {
      const [canvas] = cell.canvases();
      if (canvas) wishes.push(...gallery.wish(canvas, cell.choice().id, now, cell.room(), settings(doc)));
    }
    return wishes;
  }

  function tell() {
    const drawn = strips.filter(({ cell }) => cell.canvases().every(gallery.isDone)).length;
    const problem = strips.map(({ cell }) => gallery.problem(cell.choice().id)).find(Boolean);
    text(words, problem ?? `${drawn} of ${strips.length} drawn`);
  }

  /** @param {Choice | null} choice */
  function seeLarge(choice) {
    large = choice;
    over.hidden = !choice;
    if (!choice) return;
    const small = strips.find(({ cell }) => cell.choice().id === choice.id)?.cell.canvases()[0];
    Object.assign(largeCanvas, { width: small?.width ?? 1, height: small?.height ?? 1 });
    if (small) largeCanvas.getContext("2d")?.drawImage(small, 0, 0);
    gallery.clear(largeCanvas);
    text(largeName, choice.name);
    gallery.work();
  }

  /**
   * @param {Place} place
   * @param {import("../../types.js").Value} value
   * @param {boolean} off whether its step is off
   */
  function take(place, value, off) {
    sheet.close();
    edits.setValues([...(off ? [/** @type {[Place, boolean]} */ ([{ ...place, control: "on" }, true])] : []), [place, value]], false);
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const by = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    const at = strips.findIndex(({ cell }) => cell.el === event.target);
    if (!by || at < 0) return;
    event.preventDefault();
    strips[at + by]?.cell.el.focus();
  }

  return {
    open() {
      sheet.open();
      gallery.open();
      show();
      (strips.find(({ cell }) => cell.el.ariaCurrent) ?? strips[0])?.cell.el.focus();
    },
  };
}
