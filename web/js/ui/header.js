/** The bar on top: the look's name, undo and redo, where to start from, opening and saving. */

/** @import { Catalogue, ChoiceControl, State } from "../../types.js" */
/** @import { LibraryEntry } from "../look/library.js" */
/** @import { Edits } from "../session/edits.js" */

import { findStage, findStep } from "../pure/settings.js";
import { attribute, h } from "./dom.js";
import { icon } from "./icons.js";

/** @import { Sign } from "./icons.js" */

/**
 * @param {{ catalogue: Catalogue, edits: Edits, onopen: () => void, onsave: () => void,
 *   onstart: (stock: string) => void, onlook: (id: string) => void, library: Promise<LibraryEntry[]> }} wiring
 */
export function createHeader({ catalogue, edits, onopen, onsave, onstart, onlook, library }) {
  const name = h("input", {
    class: "look-name",
    type: "text",
    maxlength: 120,
    "aria-label": "Name of the look",
    placeholder: "Untitled look",
    autocomplete: "off",
    spellcheck: "false",
    onchange: () => edits.setName(name.value.trim()),
    onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && name.blur(),
  });
  const undo = iconButton("undo", "Undo", edits.undo);
  const redo = iconButton("redo", "Redo", edits.redo);
  const start = startMenu(catalogue, { onstart, onlook, library });
  const open = h("button", { class: "pill", type: "button", "aria-label": "Open frames", title: "Open frames", onclick: onopen }, icon("open"), h("span", {}, "Open frames"));
  const save = h("button", { class: "pill pill-lit", type: "button", onclick: onsave }, "Save");
  const el = h(
    "div",
    { class: "bar-row" },
    h("h1", { class: "wordmark" }, "Look", h("span", {}, "wright")),
    name,
    h("div", { class: "bar-tools" }, undo, redo, start, open, save),
  );

  return {
    el,
    /** @param {State} state */
    update({ history }) {
      const said = history.present.look.name ?? "";
      if (document.activeElement !== name) name.value = said;
      undo.disabled = history.past.length === 0;
      redo.disabled = history.future.length === 0;
      attribute(undo, "title", `Undo (Ctrl+Z), ${history.past.length} kept`);
    },
  };
}

/**
 * @param {Sign} sign
 * @param {string} label
 * @param {() => void} onclick
 */
function iconButton(sign, label, onclick) {
  return h("button", { class: "round", type: "button", "aria-label": label, title: label, onclick }, icon(sign));
}

/**
 * Stocks to start from, and finished looks once their list has arrived.
 * @param {Catalogue} catalogue
 * @param {{ onstart: (stock: string) => void, onlook: (id: string) => void, library: Promise<LibraryEntry[]> }} wiring
 */
function startMenu(catalogue, { onstart, onlook, library }) {
  const stock = findStep(findStage(catalogue, "negative"), "stock");
  const classes = /** @type {ChoiceControl} */ (stock.controls.find((control) => control.id === "class"));
  const stocks = classes.options.map((option) => h("option", { value: option.id }, option.label));
  const menu = h(
    "select",
    {
      class: "pill pill-menu",
      "aria-label": "Start from a stock or a look",
      onchange() {
        const { group, id } = menu.selectedOptions[0]?.dataset ?? {};
        if (group === "look" && id) onlook(id);
        else if (menu.value) onstart(menu.value);
        menu.value = "";
      },
    },
    h("option", { value: "" }, "Start from \u2026"),
    h("optgroup", { label: "Stocks" }, ...stocks),
  );
  library.then(
    (looks) => {
      const entries = looks.map(({ id, title, note }) => {
        const option = h("option", { value: `look:${id}`, title: note }, title);
        Object.assign(option.dataset, { group: "look", id });
        return option;
      });
      menu.append(h("optgroup", { label: "Looks of Saltmarket" }, ...entries));
    },
    () => {}, // Without the list the stocks are still there.
  );
  return menu;
}
