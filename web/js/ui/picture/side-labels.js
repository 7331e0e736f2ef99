/** What each side of the wipe shows: words in the picture's corners, which are menus too. */

/** @import { Catalogue, StageId, State } from "../../../types.js" */

import { VIEW_WORDS } from "../../pure/reads.js";
import { h } from "../dom.js";

/**
 * @param {Catalogue} catalogue
 * @param {(side: "before" | "after", stage: StageId) => void} onchange
 */
export function createSideLabels(catalogue, onchange) {
  const make = (/** @type {"before" | "after"} */ side) => {
    const options = catalogue.stages.map((stage) => h("option", { value: stage.id }, VIEW_WORDS[stage.id]));
    const menu = h(
      "select",
      {
        class: `side-label side-label-${side}`,
        "aria-label": side === "before" ? "Left of the wipe" : "Right of the wipe",
        onchange: () => onchange(side, /** @type {StageId} */ (menu.value)),
      },
      ...options,
    );
    return menu;
  };
  const before = make("before");
  const after = make("after");
  return {
    parts: [before, after],
    /** @param {State} state */
    update({ view, received }) {
      // The words beside the look received say what the sides are then.
      before.hidden = after.hidden = received?.comparing ?? false;
      before.value = view.before;
      after.value = view.after;
    },
  };
}
