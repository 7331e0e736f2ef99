/** What a place of the comparison shows: which look, on which frame; and a way to take it. */

/** @import { ReelFrame } from "../../types.js" */
/** @import { Choice } from "../pure/looks/choices.js" */

import { attribute, h, text } from "../ui/dom.js";

const GROUPS = /** @type {const} */ ([["bench", "Now"], ["version", "Versions"], ["own", "Yours"], ["library", "Looks of Saltmarket"]]);

/**
 * @param {{ number: number, onchoose: (id: string, frame: string | null) => void, ontake: () => void }} wiring
 */
export function createSlot({ number, onchoose, ontake }) {
  let listed = "";
  const mark = h("span", { class: "cell-mark" }, String(number));
  const looks = h("select", { class: "slot-menu", "aria-label": `What ${number} shows`, onchange: tell });
  const frames = h("select", { class: "slot-menu slot-frames", "aria-label": `The frame of ${number}`, onchange: tell });
  const take = h("button", { class: "small", type: "button", onclick: ontake }, `Take ${number}`);
  const el = h("div", { class: "compare-slot" }, mark, looks, frames, take);

  function tell() {
    onchoose(looks.value, frames.value);
  }

  /** @param {Choice} choice */
  const said = ({ id, letter, name }) => (letter ? `${letter} \u00b7 ${name}` : id === "now" ? `${name} (on now)` : name);

  return {
    el,
    /** @param {{ choices: Choice[], frames: readonly ReelFrame[], chosen: Choice, frame: ReelFrame | null, lit: boolean }} now */
    update({ choices, frames: reel, chosen, frame, lit }) {
      const key = JSON.stringify([choices.map((choice) => [choice.id, choice.name]), reel.map(({ id, name }) => [id, name])]);
      if (key !== listed) {
        listed = key;
        looks.replaceChildren(
          ...GROUPS.flatMap(([kind, label]) => {
            const own = choices.filter((choice) => choice.kind === kind);
            return own.length > 0 ? [h("optgroup", { label }, ...own.map((choice) => h("option", { value: choice.id }, said(choice))))] : [];
          }),
        );
        frames.replaceChildren(...reel.map(({ id, name }) => h("option", { value: id }, name)));
      }
      if (choices.some(({ id }) => id === chosen.id)) looks.value = chosen.id;
      frames.value = frame?.id ?? "";
      frames.hidden = reel.length < 2;
      text(mark, chosen.letter ?? String(number));
      take.disabled = chosen.id === "now" || chosen.id === "before";
      attribute(el, "data-lit", lit);
    },
  };
}
