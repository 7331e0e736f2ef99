/** The bar on top: the look's name, undo and redo, where to start from, opening and saving. */

/** @import { Catalogue, State } from "../../types.js" */
/** @import { LibraryEntry } from "../look/library.js" */
/** @import { Edits } from "../session/edits.js" */

import { attribute, h } from "./dom.js";
import { icon } from "./icons.js";

/** @import { Sign } from "./icons.js" */

/**
 * @param {{ catalogue: Catalogue, edits: Edits, onname: (name: string) => void, onkept: () => void, onopen: () => void, onsave: () => void,
 *   onmenu: () => void, onstart: (stock: string) => void, onlook: (id: string) => void, library: Promise<LibraryEntry[]> }} wiring
 */
export function createHeader({ catalogue, edits, onname, onkept, onopen, onsave, onmenu, onstart, onlook, library }) {
  const name = h("input", {
    class: "look-name",
    type: "text",
    "aria-label": "Name of the look",
    placeholder: "Untitled look",
    autocomplete: "off",
    spellcheck: "false",
    onchange: () => onname(name.value.trim()),
    onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && name.blur(),
  });
  const undo = iconButton("undo", "Undo", edits.undo);
  const redo = iconButton("redo", "Redo", edits.redo);
  const menu = iconButton("menu", "All actions", onmenu);
  menu.title = "All actions (/)";
  const start = startMenu(catalogue, { onstart, onlook, onkept, library });
  const open = h("button", { class: "pill", type: "button", "aria-label": "Open frames", title: "Open frames", onclick: onopen }, icon("open"), h("span", {}, "Open frames"));
  const save = h("button", { class: "pill pill-lit", type: "button", onclick: onsave }, "Save");
  const unkept = h("span", { class: "unkept", role: "img", hidden: true });
  const el = h(
    "div",
    { class: "bar-row" },
    h("h1", { class: "wordmark" }, "Look", h("span", {}, "wright")),
    name,
    unkept,
    h("div", { class: "bar-tools" }, undo, redo, menu, start, open, save),
  );

  return {
    el,
    /** @param {State} state */
    update({ history, kept, reel }) {
      const words = unkeptWords(kept, reel);
      unkept.hidden = words === "";
      attribute(unkept, "aria-label", words);
      attribute(unkept, "title", words);
      attribute(unkept, "data-kept", kept);
      const said = history.present.look.name ?? "";
      if (document.activeElement !== name) name.value = said;
      undo.disabled = history.past.length === 0;
      redo.disabled = history.future.length === 0;
      const [made, next] = [history.present.made, history.future[0]?.made];
      attribute(undo, "title", `Undo${made && history.past.length > 0 ? ` ${made}` : ""} (Ctrl+Z), ${history.past.length} kept`);
      attribute(redo, "title", `Redo${next ? ` ${next}` : ""}`);
    },
  };
}

/**
 * @param {State["kept"]} kept
 * @param {State["reel"]} reel
 */
function unkeptWords(kept, reel) {
  if (kept === "no") return "Work is not kept in this browser now; save the session as a file before you leave";
  const count = reel.filter((frame) => frame.kept === "no").length;
  if (count > 0) return `${count === 1 ? "1 frame is" : `${count} frames are`} not kept in this browser`;
  return kept === "writing" || reel.some((frame) => frame.kept === "waiting" && frame.stage !== "failed") ? "Not all is kept yet" : "";
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
 * @param {{ onstart: (stock: string) => void, onlook: (id: string) => void, onkept: () => void, library: Promise<LibraryEntry[]> }} wiring
 */
function startMenu(catalogue, { onstart, onlook, onkept, library }) {
  const stocks = catalogue.startingStocks.map((option) => h("option", { value: option.id }, option.label));
  const menu = h(
    "select",
    {
      class: "pill pill-menu",
      "aria-label": "Start from a stock, a look or earlier work",
      onchange() {
        const { group, id } = menu.selectedOptions[0]?.dataset ?? {};
        if (group === "look" && id) onlook(id);
        else if (group === "kept") onkept();
        else if (menu.value) onstart(menu.value);
        menu.value = "";
      },
    },
    h("option", { value: "" }, "Start from \u2026"),
    h("optgroup", { label: "Earlier work" }, h("option", { value: "kept", "data-group": "kept" }, "Kept work \u2026")),
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
