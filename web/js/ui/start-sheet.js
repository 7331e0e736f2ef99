/** What a look can begin from: a finished look, a stock, or earlier work. */

/** @import { Catalogue } from "../../types.js" */
/** @import { LibraryEntry } from "../look/library.js" */

import { h } from "./dom.js";
import { createSheet } from "./sheet.js";

/**
 * @param {{ catalogue: Catalogue, library: Promise<LibraryEntry[]>, onlook: (id: string) => void, onstock: (id: string) => void, onkept: () => void }} wiring
 */
export function createStartSheet({ catalogue, library, onlook, onstock, onkept }) {
  const sheet = createSheet({ title: "Start from", kind: "start" });
  /**
   * @param {string} label
   * @param {string} note
   * @param {() => void} take
   * @param {string} id
   */
  const entry = (label, note, take, id) =>
    h("li", {}, h("button", { class: "start-entry", type: "button", "data-id": id, onclick: () => (sheet.close(), take()) }, h("span", { class: "start-label" }, label), h("span", { class: "quiet" }, note)));
  const looks = h("ul", { class: "start-list", "data-group": "look" });
  const stocks = catalogue.startingStocks.map(({ id, label }) => {
    const [name, film] = label.split(": ");
    return entry(name ?? label, film ?? "", () => onstock(id), id);
  });
  sheet.body.append(
    h("h3", {}, "Looks of Saltmarket"),
    looks,
    h("h3", {}, "A stock, and nothing else"),
    h("ul", { class: "start-list" }, ...stocks),
    h("h3", {}, "Earlier work"),
    h("ul", { class: "start-list" }, entry("Kept work", "What this browser keeps of other sessions", onkept, "kept")),
  );
  library.then(
    (list) => looks.append(...list.map(({ id, title, note }) => entry(title, note, () => onlook(id), id))),
    () => looks.append(h("li", { class: "quiet" }, "The looks could not be loaded. Check the connection and reload the page.")),
  );
  return sheet;
}
