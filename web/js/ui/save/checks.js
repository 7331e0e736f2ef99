/** Any of several: a line that says what is chosen and unfolds into boxes. */

import { h, text } from "../dom.js";

/**
 * @param {{ label: string, options: { id: string, label: string }[], none: string, onchange: () => void }} wiring
 *   none: what is said when nothing is chosen
 */
export function createChecks({ label, options, none, onchange }) {
  const boxes = options.map(({ id, label: words }) => {
    const input = h("input", { type: "checkbox", value: id });
    return { input, words, el: h("label", { class: "check" }, input, h("span", {}, words)) };
  });
  const said = h("span", { class: "checks-said" });
  const all = h("button", { class: "small", type: "button", onclick: toggleAll }, "All");
  const el = h(
    "details",
    { class: "checks" },
    h("summary", {}, h("span", { class: "checks-label" }, label), said),
    h("div", { class: "checks-list", role: "group", "aria-label": label }, all, ...boxes.map((box) => box.el)),
  );
  el.addEventListener("change", changed);

  const chosen = () => boxes.filter(({ input }) => input.checked);

  function toggleAll() {
    const every = chosen().length === boxes.length;
    for (const { input } of boxes) input.checked = !every;
    changed();
  }

  function changed() {
    show();
    onchange();
  }

  function show() {
    const words = chosen().map((box) => box.words);
    const few = words.length <= 2 ? words.join(", ") : `${words.length} of ${boxes.length}`;
    text(said, words.length === 0 ? none : few);
    text(all, words.length === boxes.length ? "None" : "All");
  }
  show();

  return {
    el,
    value: () => chosen().map(({ input }) => input.value),
    /** @param {string[]} ids */
    set(ids) {
      for (const { input } of boxes) input.checked = ids.includes(input.value);
      show();
    },
    /** @param {string} id */
    label: (id) => options.find((option) => option.id === id)?.label ?? id,
  };
}
