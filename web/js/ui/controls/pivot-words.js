/** Contrast's pivot in stops and as it is seen, below its slider. */

/** @import { NumberControl } from "../../../types.js" */
/** @import { Row } from "./row.js" */
/** @import { Scale } from "./scan-scale.js" */

import { screenSaid, stopsSaid } from "../../pure/scan-words.js";
import { valueOf } from "../../pure/settings.js";
import { h, newId, text } from "../dom.js";

const CODE_MAX = 1023;

/**
 * @param {NumberControl} pivot
 * @param {HTMLElement} row the pivot's own, described by these words
 * @param {Scale} scale
 * @returns {Row}
 */
export function createPivotWords(pivot, row, scale) {
  const el = h("p", { class: "row-words", id: newId() });
  for (const input of row.querySelectorAll("input")) input.setAttribute("aria-describedby", el.id);
  let code = 0;

  function show() {
    const now = scale.now();
    text(el, now ? `${stopsSaid(now, code)} \u00b7 ${screenSaid(now, code)}` : "");
  }
  scale.watch(show);

  return {
    el,
    update(settings) {
      code = Number(valueOf(settings, pivot)) / CODE_MAX;
      show();
    },
  };
}
