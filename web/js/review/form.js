/** What a review is asked to be: versions, frames, words, pictures. */

/** @import { FrameId, LookData, ReelFrame } from "../../types.js" */
/** @import { Candidate } from "./candidates.js" */
/** @import { Format } from "./encode.js" */
/** @import { Small } from "./small.js" */

import { LINE_MOST, WORDS_MOST } from "../pure/review/shape.js";
import { LETTERS } from "../pure/review/review.js";
import { option } from "../ui/controls/option.js";
import { h } from "../ui/dom.js";

/** Where one's own name and mail address are remembered. */
const SENDER = "lookwright.sender";
const SIDES = ["1080", "1440", "2048"].map((id) => ({ id, label: id }));
/** @type {{ id: Format, label: string }[]} */
const FORMATS = [{ id: "webp", label: "WebP" }, { id: "jpeg", label: "JPEG" }];
/** The best that fits in so many megabytes, or one quality for all. */
const QUALITIES = [
  { id: "fit-3", label: "best below 3 MB" },
  { id: "fit-8", label: "best below 8 MB" },
  { id: "75", label: "75" },
  { id: "85", label: "85" },
  { id: "92", label: "92" },
];
/** Frames that are in it at first. */
const FIRST_FRAMES = 3;

const SMALL = { width: 96, height: 64 };

/** @typedef {{ letter: string, look: LookData, words: string }} FormLook */
/** @typedef {ReturnType<typeof createForm>} Form */

/** @param {{ onchange: () => void }} wiring */
export function createForm({ onchange }) {
  const line = (/** @type {string} */ label, /** @type {string} */ type = "text", /** @type {string} */ hint = "") => {
    const input = h("input", { type, maxlength: LINE_MOST, placeholder: hint, onchange });
    return { input, el: h("label", { class: "review-field" }, h("span", {}, label), input) };
  };
  const title = line("Title");
  const from = line("From", "text", "your name");
  const to = line("For", "text", "who is asked");
  const mail = line("Answers by mail to", "email", "optional");
  const note = h("textarea", { rows: "2", maxlength: WORDS_MOST, onchange });
  const side = option("Longer side", SIDES, "1440", onchange);
  const format = option("Pictures as", FORMATS, "webp", onchange);
  const quality = option("Quality", QUALITIES, "fit-3", onchange);

  const rows = LETTERS.map((letter, i) => {
    const menu = h("select", { "aria-label": `Look of version ${letter}`, onchange });
    const words = h("input", { type: "text", maxlength: LINE_MOST, placeholder: "a word on it", "aria-label": `What version ${letter} is like`, onchange });
    return { letter, menu, words, el: h("div", { class: "review-version" }, h("b", {}, letter), menu, words), first: i === 0 };
  });
  const frameList = h("div", { class: "review-frames", role: "group", "aria-label": "Frames" });
  /** @type {{ id: FrameId, box: HTMLInputElement }[]} */
  let boxes = [];
  /** @type {Candidate[]} */
  let offered = [];

  const el = h(
    "form",
    { class: "review-form", onsubmit: (/** @type {Event} */ event) => event.preventDefault() },
    h("h3", {}, "Versions"),
    ...rows.map((row) => row.el),
    h("h3", {}, "Frames"),
    frameList,
    h("h3", {}, "Words"),
    title.el,
    from.el,
    to.el,
    mail.el,
    h("label", { class: "review-field" }, h("span", {}, "A word with it"), note),
    h("h3", {}, "Pictures"),
    side.el,
    format.el,
    quality.el,
  );

  const remembered = recalled();
  from.input.value = remembered.from;
  mail.input.value = remembered.mail;

  return {
    el,

    /**
     * @param {{ looks: Candidate[], frames: readonly ReelFrame[], current: FrameId | null, small: Small }} given
     */
    fill({ looks, frames, current, small }) {
      offered = looks;
      for (const row of rows) {
        const before = row.menu.value;
        row.menu.replaceChildren(...(row.first ? [] : [h("option", { value: "" }, "none")]));
        for (const group of new Set(looks.map((look) => look.group))) {
          row.menu.append(h("optgroup", { label: group }, ...looks.filter((look) => look.group === group).map(({ id, label }) => h("option", { value: id }, label))));
        }
        row.menu.value = looks.some(({ id }) => id === before) ? before : row.first ? (looks[0]?.id ?? "") : "";
      }
      // A look that came from somebody stands beside one's own.
      const second = rows[1];
      if (second && second.menu.value === "" && looks.some(({ id }) => id === "received")) second.menu.value = "received";
      // A clip's file is no picture that the review's worker could open.
      const ready = frames.filter((frame) => frame.stage === "ready" && !frame.clip);
      const chosen = new Set(boxes.filter(({ box }) => box.checked).map(({ id }) => id));
      if (!ready.some(({ id }) => chosen.has(id))) {
        const ordered = [...ready.filter(({ id }) => id === current), ...ready.filter(({ id }) => id !== current)];
        ordered.slice(0, FIRST_FRAMES).forEach(({ id }) => chosen.add(id));
      }
      boxes = ready.map(({ id }) => ({ id, box: h("input", { type: "checkbox", checked: chosen.has(id), onchange }) }));
      frameList.replaceChildren(
        ...ready.map((frame, i) => {
          const canvas = h("canvas", { width: SMALL.width, height: SMALL.height, "aria-hidden": "true" });
          small.paint(canvas, frame);
          return h("label", { class: "review-frame" }, canvas, /** @type {{ box: HTMLInputElement }} */ (boxes[i]).box, h("span", {}, frame.name));
        }),
        ...(frames.some((frame) => frame.clip) ? [h("p", { class: "quiet" }, "Clips can\u2019t be sent. Save a frame of one as a picture and open that.")] : []),
      );
    },

    /** @param {string} words of a look, where nobody has written a title */
    propose(words) {
      title.input.placeholder = words;
    },

    /** @returns {Promise<FormLook[]>} rejects with one sentence */
    async looks() {
      const chosen = rows.filter(({ menu }) => menu.value !== "");
      return Promise.all(
        chosen.map(async ({ menu, words }, i) => {
          const candidate = offered.find(({ id }) => id === menu.value);
          if (!candidate) throw new Error("A look of this review is not there any more; choose another one.");
          return { letter: LETTERS[i] ?? "A", look: await candidate.look(), words: words.value.trim() };
        }),
      );
    },

    frames: () => boxes.filter(({ box }) => box.checked).map(({ id }) => id),

    words() {
      const words = { title: title.input.value.trim() || title.input.placeholder, from: from.input.value.trim(), to: to.input.value.trim(), note: note.value.trim(), mail: mail.input.validity.valid ? mail.input.value.trim() : "" };
      remember(words);
      return words;
    },

    pictures() {
      const fits = /^fit-(\d+)$/.exec(quality.value());
      return { side: Number(side.value()), format: /** @type {Format} */ (format.value()), quality: fits ? null : Number(quality.value()), most: Number(fits?.[1] ?? 0) * 1e6 };
    },
  };
}

/** @returns {{ from: string, mail: string }} */
function recalled() {
  try {
    return { from: "", mail: "", ...JSON.parse(localStorage.getItem(SENDER) ?? "{}") };
  } catch {
    return { from: "", mail: "" };
  }
}

/** @param {{ from: string, mail: string }} words */
function remember({ from, mail }) {
  try {
    localStorage.setItem(SENDER, JSON.stringify({ from, mail }));
  } catch {
    // It is written anew each time, then.
  }
}
