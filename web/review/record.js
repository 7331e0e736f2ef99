/** The record of an answer, for print: what was said to which picture. */

/** @import { AnswerData, ReviewData, ReviewShot } from "../types.js" */
/** @import { Speech } from "./words/index.js" */

import { h } from "../js/ui/dom.js";

/**
 * @param {{ answer: AnswerData, review: ReviewData, shots: ReviewShot[], speech: Speech }} given
 */
export function recordOf({ answer, review, shots, speech }) {
  const when = new Date(answer.at).toLocaleString(speech.language, { dateStyle: "long", timeStyle: "short" });
  const frames = answer.frames.map((frame, i) => {
    const shot = shots.find((it) => it.frame === i && it.kind === frame.version && !it.crop);
    const pins = frame.pins.map((pin, n) => {
      const mark = h("span", { class: "pin" }, String(n + 1));
      Object.assign(mark.style, { left: `${pin.x * 100}%`, top: `${pin.y * 100}%` });
      return mark;
    });
    return h(
      "section",
      { class: "record-frame" },
      h("div", { class: "record-picture" }, h("img", { src: shot?.src ?? "", alt: frame.name }), ...pins),
      h(
        "div",
        {},
        h("h3", {}, frame.name),
        h("p", {}, said(frame.say, frame.version, speech)),
        ...(frame.words ? [h("p", {}, frame.words)] : []),
        h("ol", {}, ...frame.pins.map(({ words }) => h("li", {}, words))),
      ),
    );
  });
  return h(
    "section",
    { class: "record", "aria-hidden": "true" },
    h("h1", {}, speech.say("record")),
    h("p", {}, h("strong", {}, review.title), review.from ? ` \u00b7 ${speech.say("from", { name: review.from })}` : ""),
    h("p", {}, h("strong", {}, answer.by), ` \u00b7 ${when}`),
    h("p", {}, summary(answer, speech)),
    ...(answer.words ? [h("p", {}, answer.words)] : []),
    ...frames,
    ...answer.versions.map(({ letter, name, fingerprint }) => h("p", { class: "record-print" }, `${letter} \u00b7 ${name} \u00b7 ${speech.say("fingerprint")} ${fingerprint}`)),
    h("p", { class: "record-print" }, speech.say("proves")),
  );
}

/**
 * @param {"yes" | "change" | ""} say
 * @param {string} letter
 * @param {Speech} speech
 */
export function said(say, letter, speech) {
  if (say === "yes") return speech.say("saidYes", { letter });
  return speech.say(say === "change" ? "saidChange" : "saidNothing");
}

/**
 * @param {AnswerData} answer
 * @param {Speech} speech
 */
export function summary({ say, version, frames }, speech) {
  if (say === "change") return speech.say("someChange");
  const [one, ...others] = frames;
  if (!one || others.length === 0) return speech.say("oneYes", { letter: version });
  if (frames.every((frame) => frame.say === "yes" && frame.version === version)) return speech.say("allYes", { letter: version, n: frames.length });
  const list = frames.filter((frame) => frame.say === "").map(({ name }) => name);
  const yes = frames.filter((frame) => frame.say === "yes").map((frame) => `${frame.name}: ${said("yes", frame.version, speech)}`);
  return `${yes.join("; ")}. ${list.length > 0 ? speech.say("missing", { list: list.join(", ") }) : ""}`.trim();
}
