/** Pinned probes: their places, their numbers at each stage, and the table as a file. */

/** @import { Catalogue, Pin, Size, State } from "../../types.js" */

import { csvOf, MOST, SIDES, within } from "../pure/pins.js";
import { reading } from "../pure/readings.js";
import { attribute, h, text } from "./dom.js";

/**
 * @param {{ catalogue: Catalogue, size: () => Size | null, onpins: (patch: Partial<Pick<State, "pins" | "pinSide" | "pinned">>) => void,
 *   onsave: (csv: string) => void, onpin: () => void }} wiring
 */
export function createPinsCard({ catalogue, size, onpins, onsave, onpin }) {
  const { axes } = catalogue.judging;
  /** @type {State | null} */
  let shown = null;
  /** Of the picture that is looked at: pins of a larger one stand at its edge. @type {Size | null} */
  let whole = null;
  const side = h(
    "select",
    { class: "scope-stage", "aria-label": "How much is averaged about each pin", onchange: () => onpins({ pinSide: Number(side.value), pinned: [] }) },
    ...SIDES.map((length) => h("option", { value: length }, length === 1 ? "one pixel" : `${length} \u00d7 ${length} pixels`)),
  );
  const add = h("button", { class: "pill", type: "button", onclick: onpin }, "Pin a place");
  const save = h("button", { class: "pill", type: "button", onclick: () => shown && whole && onsave(csvOf({ pins: shown.pins, pinned: shown.pinned, side: shown.pinSide, name: shown.reel.find(({ id }) => id === shown?.current)?.name ?? "", size: whole, axes })) }, "Save as CSV");
  const list = h("div", { class: "pins" });
  /** @type {ReturnType<typeof createPin>[]} */
  let all = [];

  /** @param {number} i */
  function createPin(i) {
    const field = (/** @type {"x" | "y"} */ axis) => {
      const el = h("input", { type: "number", min: 0, "aria-label": `Pin ${i + 1}, ${axis} in pixels`, onchange: () => place({ [axis]: Number(el.value) }) });
      return el;
    };
    const fields = { x: field("x"), y: field("y") };
    const remove = h("button", { class: "pill", type: "button", "aria-label": `Take off pin ${i + 1}`, onclick: () => drop(i) }, "\u00d7");
    const rows = catalogue.stages.map(({ label }, stage) => {
      const cells = [h("td"), h("td"), h("td")];
      return { cells, el: h("tr", {}, h("th", { scope: "row" }, label, h("span", { class: "trace-unit" }, axes[stage]?.unit ?? "")), ...cells) };
    });
    const table = h("table", { class: "trace" }, h("caption", { class: "unseen" }, `Pin ${i + 1} as it leaves every stage: red, green, blue`), h("tbody", {}, ...rows.map(({ el }) => el)));
    const el = h("div", { class: "pin" }, h("div", { class: "pin-head" }, h("b", { class: "pin-name" }, String(i + 1)), "x", fields.x, "y", fields.y, remove), table);

    /** @param {Partial<Pin>} to */
    function place(to) {
      const picture = whole;
      if (!shown || !picture) return;
      const pins = shown.pins.map((pin, at) => (at === i ? within({ ...within(pin, picture), ...to }, picture) : pin));
      // A number that was out of reach is set right in its field, too.
      for (const axis of /** @type {const} */ (["x", "y"])) fields[axis].value = String(pins[i]?.[axis] ?? 0);
      onpins({ pins, pinned: shown.pinned.map((rows, at) => (at === i ? [] : rows)) });
    }

    return { el, fields, rows };
  }

  /** @param {number} i */
  function drop(i) {
    if (!shown) return;
    const without = (/** @type {readonly any[]} */ list) => list.filter((_, at) => at !== i);
    onpins({ pins: without(shown.pins), pinned: without(shown.pinned) });
    add.focus();
  }

  return {
    el: h("div", { class: "scope scope-of-pins" }, h("div", { class: "scope-head" }, h("h2", {}, "Pinned"), side), list, h("div", { class: "pin-foot" }, add, save)),
    /** @param {State} state */
    update(state) {
      const now = size();
      const same = now?.width === whole?.width && now?.height === whole?.height;
      if (shown && same && shown.pins === state.pins && shown.pinned === state.pinned && shown.pinSide === state.pinSide && shown.current === state.current) return;
      [shown, whole] = [state, now];
      const { pins, pinned, pinSide } = state;
      side.value = String(pinSide);
      add.disabled = pins.length >= MOST;
      attribute(save, "hidden", pins.length === 0);
      save.disabled = pins.some((_, i) => !pinned[i]?.length);
      if (all.length !== pins.length) {
        all = pins.map((_, i) => createPin(i));
        list.replaceChildren(...all.map(({ el }) => el));
      }
      pins.forEach((pin, i) => {
        const { fields, rows } = /** @type {ReturnType<typeof createPin>} */ (all[i]);
        const at = now ? within(pin, now) : pin;
        for (const axis of /** @type {const} */ (["x", "y"])) if (document.activeElement !== fields[axis]) fields[axis].value = String(at[axis]);
        rows.forEach(({ cells }, stage) => {
          const axis = axes[stage];
          cells.forEach((cell, channel) => text(cell, axis && pinned[i]?.[stage] ? reading(pinned[i][stage].readings[channel] ?? NaN, axis) : ""));
        });
      });
    },
  };
}
