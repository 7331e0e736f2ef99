/** The bar: name of the page and of the look, what is not kept, undo and redo, and what is asked for most. */

/** @import { Catalogue, State } from "../../types.js" */
/** @import { Action, Actions } from "./actions.js" */

import { differences, changesSaid } from "../pure/looks/difference.js";
import { attribute, h, text } from "./dom.js";
import { icon } from "./icons.js";

/**
 * @param {{ catalogue: Catalogue, actions: Actions, onname: (name: string) => void, onframes: () => void }} wiring
 */
export function createHeader({ catalogue, actions, onname, onframes }) {
  const name = h("input", {
    class: "look-name",
    type: "text",
    "aria-label": "Name of the look",
    placeholder: "Untitled look",
    autocomplete: "off",
    spellcheck: "false",
    onchange: () => onname(name.value.trim()),
    onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && name.blur(),
  });
  const undo = iconButton("undo", "Undo");
  const redo = iconButton("redo", "Redo");
  const menu = iconButton("menu", "All actions");
  menu.classList.add("bar-menu");
  menu.title = "All actions (/)";
  menu.onclick = () => actions.run("palette");
  undo.onclick = () => actions.run("undo");
  redo.onclick = () => actions.run("redo");
  const unkept = h("span", { class: "unkept", role: "img", hidden: true });
  const state = h("span", { class: "quiet look-state" });
  const frames = h("button", { class: "frame-place", type: "button", onclick: onframes });
  const acts = h("div", { class: "bar-acts" });
  const el = h(
    "div",
    { class: "bar-name" },
    h("h1", { class: "wordmark" }, "Lookwright"),
    name,
    h("div", { class: "bar-state" }, unkept, state, frames),
  );
  const tools = h("div", { class: "bar-tools" }, undo, redo, menu);
  /** @type {Map<Action, HTMLButtonElement>} */
  const buttons = new Map();
  /** @type {State["history"] | null} */
  let shown = null;

  /** The bar's own actions, the first of them lit. */
  function showActs() {
    const own = actions.all().filter(({ place }) => place === "bar");
    for (const action of own) {
      if (buttons.has(action)) continue;
      const button = h("button", { class: action.id === "save" ? "pill pill-lit" : "pill", type: "button", "data-action": action.id, title: action.key ? `${action.label} (${action.key})` : action.label, onclick: () => actions.perform(action) }, ...(action.icon ? [icon(action.icon)] : []), h("span", {}, action.short ?? action.label));
      buttons.set(action, button);
    }
    for (const [action, button] of buttons) if (!own.includes(action)) (buttons.delete(action), button.remove());
    if (acts.childElementCount !== own.length) acts.replaceChildren(...own.flatMap((action) => buttons.get(action) ?? []));
  }

  return {
    parts: [el, tools, acts],
    /** @param {State} now */
    update({ history, kept, reel, current, panel }) {
      showActs();
      const words = unkeptWords(kept, reel);
      unkept.hidden = words === "";
      attribute(unkept, "aria-label", words);
      attribute(unkept, "title", words);
      attribute(unkept, "data-kept", kept);
      const at = reel.findIndex(({ id }) => id === current);
      text(frames, at < 0 ? "No frame" : `Frame ${at + 1} of ${reel.length}`);
      attribute(frames, "aria-pressed", panel === "frames" ? "true" : "false");
      if (history === shown) return;
      shown = history;
      const said = history.present.look.name ?? "";
      if (document.activeElement !== name) name.value = said;
      attribute(name, "title", said);
      undo.disabled = history.past.length === 0;
      redo.disabled = history.future.length === 0;
      const [made, next] = [history.present.made, history.future[0]?.made];
      attribute(undo, "title", `Undo${made && history.past.length > 0 ? ` ${made}` : ""} (Ctrl+Z), ${history.past.length} kept`);
      attribute(redo, "title", `Redo${next ? ` ${next}` : ""}`);
      text(state, sinceWords(catalogue, history));
    },
  };
}

/**
 * How far the look is from the one that it began as.
 * @param {Catalogue} catalogue
 * @param {State["history"]} history
 */
function sinceWords(catalogue, { past, present }) {
  const all = [...past, present];
  const base = (all.reverse().find(({ made }) => made?.startsWith("look ") || made === "another look") ?? all.at(-1))?.look;
  if (!base || base === present.look) return "as it came";
  const count = differences(catalogue, base, present.look).length;
  if (count === 0) return "as it came";
  return base.name && base.name !== present.look.name ? `${changesSaid(count)} since ${base.name}` : changesSaid(count);
}

/**
 * @param {State["kept"]} kept
 * @param {State["reel"]} reel
 */
function unkeptWords(kept, reel) {
  if (kept === "no") return "Work is not kept in this browser now; save the session as a file before you leave";
  const count = reel.filter((frame) => frame.kept === "no").length;
  if (count > 0) return `${count === 1 ? "1 frame is" : `${count} frames are`} not kept in this browser`;
  return kept === "writing" || reel.some((frame) => frame.kept === "waiting" && frame.stage !== "failed") ? "Not all is kept yet" : "";
}

/**
 * @param {import("./icons.js").Sign} sign
 * @param {string} label
 */
function iconButton(sign, label) {
  return h("button", { class: "round", type: "button", "aria-label": label, title: label }, icon(sign));
}
