/** The kept versions in the dock, each by its letter. */

/** @import { State } from "../../types.js" */
/** @import { Versions } from "./versions.js" */

import { attribute, h } from "../ui/dom.js";

/**
 * @param {{ versions: Versions, onchoose: (letter: string) => void, onkeep: () => void }} wiring
 */
export function createLetters({ versions, onchoose, onkeep }) {
  const keep = h("button", { class: "letter letter-keep", type: "button", "aria-label": "Keep this version", title: "Keep this version (N)", onclick: onkeep }, "+");
  const list = h("span", { class: "letter-list" });
  const el = h("div", { class: "letters", role: "group", "aria-label": "Versions", hidden: true }, list, keep);
  /** What is shown. @type {unknown[]} */
  let shown = [];

  return {
    el,
    /** @param {State} state */
    update({ attached, history }) {
      const now = [attached, history.present.look];
      if (now.every((part, i) => part === shown[i])) return;
      shown = now;
      const all = versions.all();
      const on = versions.same()?.letter;
      el.hidden = all.length === 0;
      const before = document.activeElement instanceof HTMLElement && list.contains(document.activeElement) ? document.activeElement.textContent : null;
      list.replaceChildren(
        ...all.map(({ letter, name }) => {
          const button = h("button", { class: "letter", type: "button", "aria-label": `Version ${letter}: ${name}`, title: `${name} (Shift+${letter})`, onclick: () => onchoose(letter) }, letter);
          attribute(button, "aria-pressed", String(letter === on));
          return button;
        }),
      );
      if (before !== null) for (const button of list.children) if (button instanceof HTMLElement && button.textContent === before) button.focus();
    },
  };
}
