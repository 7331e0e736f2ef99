/** Parts of a dialog of which one is seen at a time: their names stay where they are (ARIA's tabs pattern). */

import { attribute, h, newId } from "../dom.js";

/**
 * @typedef {object} Part
 * @property {string} id
 * @property {string} name in the list
 * @property {HTMLElement} el
 */

/**
 * @param {Part[]} parts
 * @param {{ label: string, onopen: (id: string) => void }} wiring
 */
export function createParts(parts, { label, onopen }) {
  let open = parts[0]?.id ?? "";
  const tabs = parts.map(({ id, name, el }) => {
    const [tabId, panelId] = [newId(), newId()];
    attribute(el, "id", panelId);
    attribute(el, "role", "tabpanel");
    attribute(el, "aria-labelledby", tabId);
    return { id, el, tab: h("button", { class: "part-tab", id: tabId, type: "button", role: "tab", "aria-controls": panelId, onclick: () => choose(id) }, name) };
  });
  const list = h("div", { class: "part-list", role: "tablist", "aria-label": label, "aria-orientation": "vertical", onkeydown }, ...tabs.map(({ tab }) => tab));

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const at = tabs.findIndex(({ id }) => id === open);
    const last = tabs.length - 1;
    const to = /** @type {Record<string, number>} */ ({ ArrowDown: at + 1, ArrowRight: at + 1, ArrowUp: at - 1, ArrowLeft: at - 1, Home: 0, End: last })[event.key];
    const next = to === undefined ? undefined : tabs[(to + tabs.length) % tabs.length];
    if (!next) return;
    event.preventDefault();
    choose(next.id);
    next.tab.focus();
  }

  function show() {
    for (const { id, el, tab } of tabs) {
      attribute(tab, "aria-selected", String(id === open));
      attribute(tab, "tabindex", id === open ? "0" : "-1");
      el.hidden = id !== open;
    }
  }

  /** @param {string} id */
  function choose(id) {
    if (!tabs.some((it) => it.id === id)) return;
    open = id;
    show();
    onopen(id);
  }
  show();

  return { list, panels: tabs.map(({ el }) => el), choose, open: () => open };
}
