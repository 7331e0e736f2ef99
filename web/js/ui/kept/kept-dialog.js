/** All work that this browser keeps: go on with it, take it out as a file, throw it away. */

/** @import { DeskWork } from "../../kept/desk-work.js" */
/** @import { Listing } from "../../kept/shelf.js" */
/** @import { Notices } from "../notices.js" */

import { sizeSaid } from "../../pure/health.js";
import { h } from "../dom.js";
import { icon } from "../icons.js";

/** @typedef {ReturnType<typeof createKeptDialog>} KeptDialog */

/**
 * @param {{ deskWork: DeskWork, notices: Notices }} wiring
 */
export function createKeptDialog({ deskWork, notices }) {
  const list = h("ul", { class: "kept-list" });
  const promise = h("p", { class: "quiet" });
  const close = h("button", { class: "round", type: "button", "aria-label": "Close", onclick: () => dialog.close() }, icon("close"));
  const dialog = h(
    "dialog",
    { class: "save kept", "aria-labelledby": "kept-title" },
    h("div", { class: "save-head" }, h("h2", { id: "kept-title" }, "Kept in this browser"), close),
    promise,
    list,
    h("div", { class: "save-actions" }, button("Begin new work", () => deskWork.turnTo(""))),
  );

  /**
   * @param {string} label
   * @param {() => unknown} act
   * @param {string} [what] what it acts on, for who can't see it beside
   */
  function button(label, act, what) {
    const run = async () => {
      try {
        await act();
      } catch (error) {
        notices.problem(error);
      }
    };
    return h("button", { class: "small", type: "button", onclick: run, ...(what ? { "aria-label": `${label}: ${what}` } : {}) }, label);
  }

  /**
   * Throwing away is asked for twice: it can't be undone.
   * @param {string} id
   * @param {string} name
   */
  function removal(id, name) {
    const first = button("Delete", () => first.replaceWith(sure), name);
    const sure = button("Delete for good", () => deskWork.remove(id).then(fill), name);
    return first;
  }

  /** Taking back the room of frames that stand on no reel is asked for twice as well. */
  function freeing() {
    const removed = deskWork.removed();
    if (removed.length === 0) return [];
    const size = sizeSaid(removed.reduce((sum, { bytes = 0 }) => sum + bytes, 0));
    const count = removed.length === 1 ? "1 frame" : `${removed.length} frames`;
    const first = button(`Free ${size}: ${count} off the reel`, () => first.replaceWith(sure));
    const sure = button("Free it; undo can\u2019t bring them back then", () => deskWork.freeRemoved().then(fill));
    return [first];
  }

  /** @param {Listing} listing */
  function item({ id, name, frames, bytes, changed, open, why }) {
    const here = id === deskWork.own;
    const count = frames === 1 ? "1 frame of yours" : `${frames} frames of yours`;
    const facts = [frames > 0 ? `${count}, ${sizeSaid(bytes)}` : "no frames of yours", whenSaid(changed)];
    if (why !== undefined) facts.push(`can\u2019t be read: ${why}`);
    else if (here) facts.push("on this desk");
    else if (open) facts.push("open in another tab");
    const acts = here ? freeing() : open ? [] : [...(why === undefined ? [button("Go on", () => deskWork.turnTo(id), name)] : []), button("Save as a file", () => deskWork.saveOther(id), name), removal(id, name)];
    return h("li", {}, h("p", {}, h("strong", {}, name), h("br"), h("span", { class: "quiet" }, facts.join(" \u00b7 "))), h("div", { class: "save-actions" }, ...acts));
  }

  async function fill() {
    const [sessions, copies, promised] = await Promise.all([deskWork.list(), deskWork.copies(), deskWork.promised()]);
    promise.textContent = !deskWork.keeps
      ? "This browser keeps nothing between visits here. Save the session as a file before you leave."
      : promised
        ? "The browser has promised not to clear this when the disk fills up."
        : "The browser may clear this when the disk fills up; files that you save stay.";
    const told = copies.map(({ id, why, at, copy }) => {
      const name = "A copy of work that could not be read whole";
      return h("li", {}, h("p", {}, h("strong", {}, name), h("br"), h("span", { class: "quiet" }, `${why} \u00b7 ${whenSaid(at)}`)), h("div", { class: "save-actions" }, button("Save as a file", () => deskWork.saveOther(id, copy), name), removal(id, name)));
    });
    list.replaceChildren(...sessions.map(item), ...told);
    if (list.children.length === 0) list.append(h("li", {}, h("p", { class: "quiet" }, "Nothing yet.")));
  }

  return {
    el: dialog,
    async open() {
      await fill();
      dialog.showModal();
    },
  };
}

/** @param {number} time ms since 1970 */
function whenSaid(time) {
  return time > 0 ? new Date(time).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" }) : "some time ago";
}
