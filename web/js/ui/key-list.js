/** The list of keys, by group, and the switch that turns single ones off. */

/** @import { Actions } from "./actions.js" */

import { createSwitch } from "./controls/switch.js";
import { GROUPS } from "./actions.js";
import { h } from "./dom.js";
import { createSheet } from "./sheet.js";

/** Keys of controls, which are no actions of the page. */
const OF_CONTROLS = [
  ["Arrows", "One step; with Shift a tenth of it"],
  ["Page up, page down", "Ten steps"],
  ["Home, End", "Least and most"],
  ["Delete", "As it came"],
  ["Wheel", "Turns the slider that has the focus"],
  ["2*1.2, +1/3", "Numbers can be worked out where they stand"],
];

/**
 * @param {Actions} actions
 */
export function createKeyList(actions) {
  const toggle = createSwitch("Keys of a single character act", (on) => actions.setSingle(on));
  const sheet = createSheet({ title: "Keys", kind: "key-list", onopen: show });

  function show() {
    toggle.update(actions.single());
    const listed = actions.all().filter(({ key }) => key !== undefined);
    const groups = GROUPS.flatMap((group) => {
      const own = listed.filter((action) => action.group === group).map(({ key, label }) => [key ?? "", label]);
      return own.length > 0 ? [table(group, own)] : [];
    });
    sheet.body.replaceChildren(
      h("div", { class: "key-groups" }, ...groups, table("On a control", OF_CONTROLS)),
      h("label", { class: "key-switch" }, toggle.el, h("span", {}, "Keys of a single character act. Put this off if you speak to your computer, or press keys by mistake.")),
    );
  }

  return sheet;
}

/**
 * @param {string} title
 * @param {string[][]} rows
 */
function table(title, rows) {
  const lines = rows.map(([key, label]) => h("div", {}, h("dt", {}, h("kbd", {}, key ?? "")), h("dd", {}, label ?? "")));
  return h("section", {}, h("h3", {}, title), h("dl", {}, ...lines));
}
