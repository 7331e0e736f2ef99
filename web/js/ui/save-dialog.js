/** What can be saved, in one dialog. */

/** @import { Catalogue, ChoiceControl, State } from "../../types.js" */
/** @import { Save } from "../save.js" */
/** @import { Notices } from "./notices.js" */

import { h, newId, text } from "../dom.js";
import { toLink } from "../link.js";
import { findStage, findStep, isOn, stageSettings, stepSettings, valueOf } from "../pure/settings.js";
import { createChoice } from "./choice.js";
import { icon } from "./icons.js";

/** @import { Asks } from "../asks.js" */

const FORMATS = [
  { id: "png8", label: "PNG 8" },
  { id: "png16", label: "PNG 16" },
  { id: "jpeg", label: "JPEG" },
  { id: "tiff16", label: "TIFF 16" },
];
const GRIDS = ["17", "33", "65"].map((id) => ({ id, label: id }));
const JPEG_QUALITY = 92;

/**
 * @param {{ catalogue: Catalogue, save: Save, asks: Asks, notices: Notices, state: () => State }} wiring
 */
export function createSaveDialog({ catalogue, save, asks, notices, state }) {
  const encodings = /** @type {ChoiceControl} */ (
    findStep(findStage(catalogue, "intake"), "source").controls.find((control) => control.id === "encoding")
  );
  const format = option("Format", FORMATS, "png8");
  const encoding = option("For pictures in", encodings.options, encodings.default);
  const grid = option("Grid", GRIDS, "33");
  const texture = h("p", { class: "quiet" });
  const link = h("input", { class: "link-text", type: "text", readonly: true, "aria-label": "Link to this look", onfocus: () => link.select() });
  const close = h("button", { class: "round", type: "button", "aria-label": "Close", onclick: () => dialog.close() }, icon("close"));

  /** @param {() => Promise<void>} task */
  const run = (task) => () => {
    dialog.close();
    task().catch(notices.problem);
  };
  const dialog = h(
    "dialog",
    { class: "save", "aria-labelledby": "save-title" },
    h("div", { class: "save-head" }, h("h2", { id: "save-title" }, "Save"), close),
    part("The picture", "This frame with the look on it, every step included, at full size.", [format.el], action("Save picture", run(() => save.picture({ format: format.value(), quality: JPEG_QUALITY })))),
    part("A table", "The look's colour and tone as a .cube file, for footage in one camera encoding.", [encoding.el, grid.el, texture], action("Save table", run(() => save.table({ encoding: encoding.value(), grid: Number(grid.value()) })))),
    part("The look", "All settings as a small file, or as a link that opens this page with the look on.", [link], action("Save look", run(() => save.look())), action("Copy link", run(() => save.link(link.value)))),
  );

  return {
    el: dialog,
    async open() {
      const now = state();
      const source = stageSettings(now.history.present, "intake", now.current);
      encoding.set(String(valueOf(stepSettings(source, "source"), encodings)));
      text(texture, leftOut(catalogue, now));
      dialog.showModal();
      const { canonical } = await asks.readLook(JSON.stringify(now.history.present.look));
      link.value = new URL(await toLink(canonical), location.href).href;
    },
  };
}

/**
 * @param {Catalogue} catalogue
 * @param {State} state
 */
function leftOut(catalogue, { history, current }) {
  const names = catalogue.stages.flatMap((stage) => {
    const settings = stageSettings(history.present, stage.id, current);
    return stage.steps.filter((step) => step.texture && isOn(stepSettings(settings, step.id), step)).map((step) => step.label.toLowerCase());
  });
  return names.length > 0 ? `Not in the table: ${names.join(", ")}, and this frame's trim.` : "Not in the table: this frame's trim.";
}

/**
 * @param {string} label
 * @param {{ id: string, label: string }[]} options
 * @param {string} initial
 */
function option(label, options, initial) {
  let value = initial;
  const labelledby = newId();
  const choice = createChoice({ kind: "choice", id: label, label, help: "", options, default: initial }, { labelledby, onvalue: set });

  /** @param {string} id */
  function set(id) {
    value = id;
    choice.update(id, false);
  }
  set(initial);
  return { el: h("div", { class: "save-option" }, h("span", { id: labelledby }, label), choice.el), value: () => value, set };
}

/**
 * @param {string} title
 * @param {string} words
 * @param {HTMLElement[]} options
 * @param {...HTMLElement} actions
 */
function part(title, words, options, ...actions) {
  return h("section", { class: "save-part" }, h("h3", {}, title), h("p", {}, words), ...options, h("div", { class: "save-actions" }, ...actions));
}

/**
 * @param {string} label
 * @param {() => void} onclick
 */
function action(label, onclick) {
  return h("button", { class: "pill", type: "button", onclick }, label);
}
