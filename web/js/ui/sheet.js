/** A sheet over the whole desk: a view of its own, with a title, room for tools, and its content. */

import { h, newId } from "./dom.js";
import { icon } from "./icons.js";

/** @typedef {ReturnType<typeof createSheet>} Sheet */

/**
 * The browser keeps the focus in it, brings it back afterwards, and closes it by Escape.
 * @param {{ title: string, kind?: string, tools?: Node[], onopen?: () => void, onclose?: () => void }} options
 *   kind: a class for its style; tools: what stands between title and the closing button
 */
export function createSheet({ title, kind = "", tools = [], onopen, onclose }) {
  const id = newId();
  const heading = h("h2", { class: "sheet-title", id }, title);
  const away = h("button", { class: "round", type: "button", "aria-label": "Close", title: "Close (Esc)", onclick: () => el.close() }, icon("close"));
  const body = h("div", { class: "sheet-body" });
  const el = h(
    "dialog",
    { class: `full-sheet ${kind}`.trim(), "aria-labelledby": id, onclose: (/** @type {Event} */ event) => event.target === el && onclose?.() },
    h("div", { class: "sheet-bar" }, heading, h("div", { class: "sheet-tools" }, ...tools), away),
    body,
  );
  return {
    el,
    body,
    heading,
    isOpen: () => el.open,
    open() {
      if (el.open) return;
      if (!el.isConnected) document.body.append(el);
      onopen?.();
      el.showModal();
    },
    close: () => el.close(),
  };
}
