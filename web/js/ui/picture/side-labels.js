/** What each side of the wipe shows: words in the picture's corners, which are menus too. */

/** @import { Catalogue, StageId, State } from "../../../types.js" */

import { h } from "../dom.js";

/** The picture as it leaves each stage. */
const WORDS = /** @type {Record<StageId, string>} */ ({
  intake: "as the camera saw it",
  lens: "behind the lens",
  negative: "the negative",
  scan: "the scan",
  print: "the print",
  screen: "with the look",
});

/**
 * @param {Catalogue} catalogue
 * @param {(side: "before" | "after", stage: StageId) => void} onchange
 */
export function createSideLabels(catalogue, onchange) {
  const make = (/** @type {"before" | "after"} */ side) => {
    const options = catalogue.stages.map((stage) => h("option", { value: stage.id }, WORDS[stage.id]));
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
