/** What should change: pins with words, and words on the frame as a whole. */

/** @import { FrameAnswer, ReviewPin } from "../types.js" */
/** @import { Speech } from "./words/index.js" */

import { WORDS_MOST } from "../js/pure/review/shape.js";
import { h } from "../js/ui/dom.js";

/** @typedef {ReturnType<typeof createNotes>} Notes */

/**
 * @param {{ speech: Speech, onpins: (pins: ReviewPin[]) => void, onwords: (words: string) => void, onadd: () => void, ondone: () => void }} wiring
 */
export function createNotes({ speech, onpins, onwords, onadd, ondone }) {
  const title = h("h2", { tabindex: "-1" }, speech.say("whatChange"));
  const where = h("p", { class: "quiet" });
  const list = h("ol", { class: "notes-list" });
  const whole = h("textarea", { rows: "2", maxlength: WORDS_MOST, oninput: () => onwords(whole.value) });
  const el = h(
    "section",
    { class: "notes", hidden: true },
    h("div", {}, title, where),
    h("p", {}, speech.say("tapWhere")),
    list,
    h("button", { type: "button", class: "plain", onclick: onadd }, speech.say("addPin")),
    h("label", { class: "field" }, h("span", {}, speech.say("aboutFrame")), whole),
    h("button", { type: "button", class: "lit", onclick: ondone }, speech.say("done")),
  );
  /** @type {ReviewPin[]} */
  let latest = [];

  /** @param {number} index */
  function row(index) {
    const words = h("textarea", {
      rows: "2",
      maxlength: WORDS_MOST,
      "aria-label": speech.say("pinWords", { n: index + 1 }),
      oninput: () => put(index, words.value),
    });
    const quick = speech.quick.map((text) =>
      h("button", { type: "button", class: "quick", onclick: () => put(index, words.value.trim() === "" ? text : `${words.value.trim()}, ${text}`) }, text),
    );
    const remove = h("button", { type: "button", class: "plain small", "aria-label": `${speech.say("remove")}: ${speech.say("pin", { n: index + 1 })}`, onclick: () => onpins(latest.filter((_, i) => i !== index)) }, speech.say("remove"));
    return h("li", {}, h("span", { class: "pin", "aria-hidden": "true" }, String(index + 1)), h("div", {}, words, h("div", { class: "quicks" }, ...quick, remove)));
  }

  /**
   * @param {number} index
   * @param {string} words
   */
  function put(index, words) {
    onpins(latest.map((pin, i) => (i === index ? { ...pin, words } : pin)));
  }

  const field = (/** @type {number} */ index) => list.children[index]?.querySelector("textarea");

  return {
    el,
    /** @param {number} [index] the pin whose words are wanted */
    focus(index) {
      if (index === undefined) title.focus();
      else field(index)?.focus();
    },
    /**
     * @param {FrameAnswer} frame
     * @param {string} said which one it is
     */
    update({ pins, words }, said) {
      latest = pins;
      where.textContent = said;
      while (list.children.length > pins.length) list.lastElementChild?.remove();
      while (list.children.length < pins.length) list.append(row(list.children.length));
      pins.forEach((pin, i) => {
        const text = field(i);
        if (text && text.value !== pin.words) text.value = pin.words;
      });
      if (whole.value !== words) whole.value = words;
    },
  };
}
