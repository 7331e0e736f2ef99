/** The palette: every action by its words, and by its key beside it. */

/** @import { Action, Actions } from "./actions.js" */

import { sought } from "../pure/seek.js";
import { attribute, h, newId } from "./dom.js";

/**
 * @param {Actions} actions
 */
export function createPalette(actions) {
  const listId = newId();
  const field = h("input", {
    class: "palette-field",
    type: "text",
    role: "combobox",
    "aria-label": "Find an action or a control",
    "aria-controls": listId,
    "aria-expanded": "true",
    "aria-autocomplete": "list",
    placeholder: "Find an action or a control",
    autocomplete: "off",
    spellcheck: "false",
    oninput: show,
    onkeydown,
  });
  const list = h("div", { class: "palette-list", role: "listbox", id: listId, "aria-label": "Actions" });
  const none = h("p", { class: "quiet palette-none", hidden: true, role: "status" }, "Nothing is called that.");
  const el = h("dialog", { class: "palette", "aria-label": "Actions", onclick: (/** @type {Event} */ event) => event.target === el && el.close() }, field, list, none);
  /** @type {{ action: Action, row: HTMLElement }[]} */
  let rows = [];
  let at = 0;

  function show() {
    const typed = field.value.trim();
    const offered = actions.all().filter((action) => actions.enabled(action) && (typed !== "" || !action.soughtOnly));
    const found = typed === "" ? offered : sought(offered, typed, ({ label, also, group }) => `${label} ${also ?? ""} ${group}`).slice(0, 40);
    /** @type {Node[]} */
    const parts = [];
    let group = "";
    rows = found.map((action) => {
      if (typed === "" && action.group !== group) {
        group = action.group;
        parts.push(h("p", { class: "palette-group", role: "presentation" }, group));
      }
      const row = h("div", { class: "palette-row", role: "option", id: newId(), "aria-selected": "false", onclick: () => take(action) }, h("span", {}, action.label), ...(action.key ? [h("kbd", {}, action.key)] : []));
      parts.push(row);
      return { action, row };
    });
    list.replaceChildren(...parts);
    none.hidden = rows.length > 0;
    mark(0);
  }

  /** @param {number} next */
  function mark(next) {
    at = Math.max(0, Math.min(rows.length - 1, next));
    rows.forEach(({ row }, i) => attribute(row, "aria-selected", i === at ? "true" : "false"));
    const marked = rows[at]?.row;
    attribute(field, "aria-activedescendant", marked?.id);
    marked?.scrollIntoView({ block: "nearest" });
  }

  /** @param {Action} action */
  function take(action) {
    el.close();
    actions.perform(action);
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, PageDown: at + 8, PageUp: at - 8 }[event.key];
    if (next !== undefined) mark(next);
    else if (event.key === "Enter" && !event.isComposing) {
      const chosen = rows[at];
      if (chosen) take(chosen.action);
    } else return;
    event.preventDefault();
  }

  return {
    el,
    open() {
      field.value = "";
      if (!el.isConnected) document.body.append(el);
      el.showModal();
      show();
    },
  };
}
