/** What differs between two looks: in words by stage, as a picture, and the looks between them. */

/** @import { Catalogue, LookData, ReelFrame, Shown } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Version } from "../pure/looks/versions.js" */
/** @import { Wish } from "./renderers.js" */
/** @import { MakeWish } from "./room.js" */

import { blend } from "../pure/looks/blend.js";
import { changesSaid, differences } from "../pure/looks/difference.js";
import { h, text } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";
import { replaceRows } from "../ui/rows.js";

/** Greys of the map, and the colour differences that they begin at. */
const LEGEND = /** @type {const} */ ([["#161616", "to 1"], ["#5c5c5c", "to 3"], ["#a6a6a6", "to 5"], ["#ffffff", "more"]]);

/** @typedef {{ first: Choice, second: Choice, target: Choice, frames: (ReelFrame | null)[], versions: Version[], screen: string }} Now target: the second one, when no blend is tried */

/**
 * @param {{ catalogue: Catalogue, client: Client, onblend: (look: LookData | null, words: string) => void, onkeep: (look: LookData) => void,
 *   ontake: (look: LookData) => void, onletgo: (letter: string) => void }} wiring
 */
export function createDifferencePanel({ catalogue, client, onblend, onkeep, ontake, onletgo }) {
  /** @type {Now | null} */
  let now = null;
  let share = 1;
  /** The pair that is blended. */
  let pair = "";
  /** @type {LookData | null} */
  let between = null;

  const count = h("h3", {});
  const rows = h("div", { class: "difference-rows" });
  const map = h("canvas", { class: "look-canvas", width: 1, height: 1, role: "img", "aria-label": "Where they differ" });
  const kind = h("select", { class: "slot-menu", "aria-label": "How the difference is shown", onchange: drawMap }, h("option", { value: "steps" }, "Colour difference"), h("option", { value: "amplified" }, "Codes, eight times"));
  const legend = h("p", { class: "difference-legend" }, ...LEGEND.map(([colour, words]) => {
    const swatch = h("span", { class: "difference-swatch" });
    swatch.style.background = colour;
    return h("span", {}, swatch, words);
  }), " \u0394E");
  const measure = h("p", { class: "quiet" });
  const where = h("section", {}, h("h3", {}, "Where it shows"), h("div", { class: "difference-map" }, map), kind, legend, measure);
  const slider = h("input", { class: "blend-slider", type: "range", min: 0, max: 100, step: 1, value: 100, "aria-label": "Blend their numbers", oninput: onslide });
  const percent = h("output", {});
  const keep = h("button", { class: "pill", type: "button", onclick: () => now && onkeep(now.second.look) }, "Keep as a version");
  const takeIt = h("button", { class: "pill", type: "button", onclick: () => now && ontake(now.second.look) }, "Take the blend");
  const mixing = h("section", {}, h("h3", {}, "Blend their numbers"), h("div", { class: "blend-row" }, h("span", {}, "1"), slider, h("span", {}, "2"), percent), h("p", { class: "quiet" }, "Every number goes its way from 1 to 2; choices change in the middle."), h("div", { class: "pair-acts" }, keep, takeIt));
  const list = h("div", { class: "version-list" });
  const kept = h("section", {}, h("h3", {}, "Versions"), list);
  const said = h("p", { class: "compare-said", role: "status" });
  const undo = h("button", { class: "small", type: "button", hidden: true }, "Undo");
  const el = h("aside", { class: "compare-panel", "aria-label": "What differs" }, h("section", {}, count, rows), where, mixing, kept, said, undo);

  /** The renderings that the map is made from. @type {[Shown, Shown] | null} */
  let shown = null;

  function onslide() {
    share = Number(slider.value) / 100;
    if (!now) return;
    const words = `Blend, ${Math.round(100 * share)} %`;
    const [from, to] = [now.first.name, now.target.name];
    const made = share >= 1 ? null : blend(catalogue, now.first.look, now.target.look, share);
    between = made && share > 0 ? { ...made, name: now.first.look.name === now.target.look.name ? now.target.look.name ?? to : `${from} to ${to}, ${Math.round(100 * share)} %` } : made;
    onblend(between, words);
  }

  async function drawMap() {
    if (!now || !shown) return;
    const [first, second] = shown;
    if (first.width !== second.width || first.height !== second.height) return;
    const found = await client.difference(first, second, now.screen);
    if (!found) return;
    paint(map, kind.value === "steps" ? found.steps : found.amplified);
    legend.hidden = kind.value !== "steps";
    text(measure, found.most === 0 ? "No pixel differs at this size." : `Mean ${found.mean.toFixed(1)} \u0394E 2000, most ${found.most.toFixed(1)}.`);
  }

  function showRows() {
    if (!now) return;
    const found = now.first.id === "before" || now.second.id === "before" ? null : differences(catalogue, now.first.look, now.second.look);
    text(count, found === null ? "Before and after" : found.length === 0 ? "No setting differs" : changesSaid(found.length));
    rows.replaceChildren(
      ...catalogue.stages.flatMap((stage) => {
        const own = (found ?? []).filter((difference) => difference.stage === stage.id);
        if (own.length === 0) return [];
        return [
          h("h4", {}, stage.label),
          h("dl", {}, ...own.map(({ label, from, to, idle }) => h("div", { "data-idle": idle }, h("dt", {}, label), h("dd", {}, from, h("span", { class: "quiet" }, " to "), h("b", {}, to))))),
        ];
      }),
    );
  }

  return {
    el,
    /** @param {string} words @param {() => void} [back] undoes what was done */
    say(words, back) {
      text(said, words);
      undo.hidden = !back;
      undo.onclick = back ?? null;
    },

    /** @param {MakeWish} wish @returns {Wish[]} small renderings for the map */
    wanted(wish) {
      const frame = now?.frames[0];
      if (!now || !frame || now.frames[1]?.id !== frame.id) return [];
      const space = { width: where.clientWidth, height: where.clientWidth };
      /** @type {Shown[]} */
      const there = [];
      const wishes = [now.first, now.second].flatMap((choice, i) => wish(null, choice, frame, space, (it) => (there[i] = it)));
      const [first, second] = there;
      if (first && second && (shown?.[0] !== first || shown[1] !== second)) {
        shown = [first, second];
        drawMap().catch((error) => text(measure, error instanceof Error ? error.message : String(error)));
      }
      return wishes;
    },

    /** @param {Now} next */
    update(next) {
      now = next;
      const key = [next.first.id, next.target.id, JSON.stringify(next.first.look), JSON.stringify(next.target.look)].join("\n");
      if (key !== pair) {
        pair = key;
        share = 1;
        between = null;
        slider.value = "100";
      }
      text(percent, `${Math.round(100 * share)} %`);
      mixing.hidden = next.first.id === "before" || next.target.id === "before" || differences(catalogue, next.first.look, next.target.look).length === 0;
      takeIt.disabled = between === null;
      where.hidden = next.frames[0]?.id !== next.frames[1]?.id;
      kept.hidden = next.versions.length === 0;
      replaceRows(list, next.versions.map(({ letter, name }) => h("p", {}, h("span", { class: "cell-mark" }, letter), h("span", {}, name), h("button", { class: "small", type: "button", "aria-label": `Let go of version ${letter}`, onclick: () => onletgo(letter) }, "Let go"))));
      showRows();
    },
  };
}
