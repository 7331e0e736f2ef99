/** A labelled choice of the save dialog. */

import { h, newId } from "../dom.js";
import { createChoice } from "./choice.js";

export const GRIDS = ["17", "33", "65"].map((id) => ({ id, label: id }));

/**
 * @param {string} label
 * @param {{ id: string, label: string }[]} options
 * @param {string} initial
 * @param {() => void} [onchange] called when a person has chosen
 */
export function option(label, options, initial, onchange = () => {}) {
  let value = initial;
  const labelledby = newId();
  const choice = createChoice(
    { options },
    {
      labelledby,
      onvalue(id) {
        set(id);
        onchange();
      },
    },
  );

  /** @param {string} id */
  function set(id) {
    value = id;
    choice.update(id, false);
  }
  set(initial);
  return { el: h("div", { class: "save-option" }, h("span", { id: labelledby }, label), choice.el), value: () => value, set };
}
