/** The tools beside or below the picture: made from the actions that ask for a place there. */

/** @import { Size, State, View } from "../../types.js" */
/** @import { Action, Actions } from "./actions.js" */

import { scaleOf } from "../pure/viewport.js";
import { attribute, h, text } from "./dom.js";
import { icon } from "./icons.js";

/** What stays in its place when there is nothing for it to do. */
const STATELY = new Set(["undo", "redo"]);
/** What has words of its own instead of a sign. */
const WORDS = /** @type {Record<string, string>} */ ({ fit: "Fit", "one-to-one": "1:1", "two-to-one": "2:1" });

/**
 * @param {{ actions: Actions, density: () => number, paneSize: () => Size }} wiring
 */
export function createTools({ actions, density, paneSize }) {
  const percent = h("output", { class: "zoom-percent", "aria-label": "Zoom" });
  const el = h("div", { class: "tools", role: "toolbar", "aria-label": "Picture tools" }, percent);
  /** @type {Map<Action, HTMLButtonElement>} */
  const buttons = new Map();

  /** @param {State} state */
  function show(state) {
    const own = actions.all().filter(({ place }) => place === "tools");
    for (const action of own) if (!buttons.has(action)) buttons.set(action, make(action));
    for (const [action, button] of buttons) {
      if (!own.includes(action)) (buttons.delete(action), button.remove());
      else if (STATELY.has(action.id)) button.disabled = !actions.enabled(action);
      else button.hidden = !actions.enabled(action);
      if (action.pressed) attribute(button, "aria-pressed", action.pressed(state) ? "true" : "false");
    }
    const wanted = [...own.flatMap((action) => buttons.get(action) ?? []), percent];
    if (el.childElementCount !== wanted.length) el.replaceChildren(...wanted);
  }

  /** @param {Action} action */
  function make(action) {
    const words = WORDS[action.id];
    const title = action.key ? `${action.label} (${action.key})` : action.label;
    return h("button", { class: "tool", type: "button", title, "aria-label": action.label, "data-action": action.id, onclick: () => actions.perform(action) }, words ?? (action.icon ? icon(action.icon) : action.label));
  }

  return {
    el,
    /**
     * @param {State} state
     * @param {Size | null} size of the picture
     */
    update(state, size) {
      show(state);
      if (size) text(percent, `${Math.round(scaleOf(state.view, size, paneSize()) * density() * 100)} %`);
    },
  };
}

/**
 * @param {View} view
 * @param {number} wanted device pixels per picture pixel, 0 for fit
 * @param {number} density
 */
export function isAt(view, wanted, density) {
  return wanted === 0 ? view.scale === "fit" : view.scale !== "fit" && Math.abs(view.scale * density - wanted) < 0.005;
}
