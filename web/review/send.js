/** The last step: a name, the answer in words, and the ways to hand it on. */

/** @import { AnswerData, ReviewData, ReviewShot } from "../types.js" */
/** @import { State } from "./state.js" */
/** @import { Speech } from "./words/index.js" */

import { toFile, toHash, toMessage } from "../js/pure/review/answer.js";
import { LINE_MOST, WORDS_MOST } from "../js/pure/review/shape.js";
import { attribute, h, newId } from "../js/ui/dom.js";
import { recordOf, said, summary } from "./record.js";
import { signed } from "./sign.js";

/** Longest text that mail programs take in an address, in characters (common practice, no source). */
const MAIL_MOST = 1900;

/**
 * @param {{ review: ReviewData, shots: ReviewShot[], state: State, speech: Speech }} wiring
 */
export function createSend({ review, shots, state, speech }) {
  const titleId = newId();
  const points = h("ul", { class: "points" });
  const sum = h("p", { class: "sum" });
  const name = h("input", { type: "text", maxlength: LINE_MOST, autocomplete: "name", required: true, oninput: () => state.set({ by: name.value }) });
  const nameProblem = h("p", { class: "problem", role: "alert" });
  const words = h("textarea", { rows: "2", maxlength: WORDS_MOST, oninput: () => state.set({ words: words.value }) });
  const sign = h("input", { type: "checkbox", onchange: () => state.set({ sign: sign.checked }) });
  const outcome = h("p", { class: "outcome", role: "status" });
  const text = h("textarea", { class: "text", rows: "5", readonly: true, hidden: true, "aria-label": speech.say("asText"), onfocus: () => text.select() });
  const to = review.from || speech.say("sender");

  /** The main way first: what the device itself offers, else mail, else a text to paste. */
  const ways = [
    ...(typeof navigator.share === "function" ? [way("send", share)] : []),
    ...(review.mail || typeof navigator.share !== "function" ? [way("mail", mail)] : []),
    way("copy", copy),
    way("file", save),
    ...(review.home ? [way("link", link)] : []),
    way("print", async () => print()),
  ];
  ways[0]?.classList.replace("plain", "lit");

  const el = h(
    "dialog",
    { class: "sheet", "aria-labelledby": titleId },
    h("h2", { id: titleId, tabindex: "-1", autofocus: true }, speech.say("yourAnswer")),
    sum,
    points,
    h("label", { class: "field" }, h("span", {}, speech.say("name")), name),
    nameProblem,
    h("div", { class: "ways" }, ...ways),
    outcome,
    text,
    h("label", { class: "field" }, h("span", {}, speech.say("words")), words),
    h("label", { class: "tick" }, sign, h("span", {}, speech.say("sign"))),
    h("p", { class: "quiet" }, `${speech.say("signMeans")} ${speech.say("proves")}`),
    h("button", { type: "button", class: "plain", onclick: () => el.close() }, speech.say("back")),
  );

  /**
   * @param {"send" | "mail" | "copy" | "file" | "link" | "print"} key
   * @param {(answer: AnswerData) => Promise<unknown>} act
   */
  function way(key, act) {
    const run = async () => {
      const answer = await finished();
      if (!answer) return;
      try {
        await act(answer);
      } catch (error) {
        // Whoever thinks better of it has not sent anything.
        if (!(error instanceof DOMException && error.name === "AbortError")) showText(answer);
      }
    };
    return h("button", { type: "button", class: "plain", "data-way": key, onclick: () => void run() }, speech.say(key));
  }

  /** The answer as it goes out; null without a name. @returns {Promise<AnswerData | null>} */
  async function finished() {
    const missing = name.value.trim() === "";
    nameProblem.textContent = missing ? speech.say("nameMissing") : "";
    attribute(name, "aria-invalid", missing ? "true" : undefined);
    if (missing) {
      name.focus();
      return null;
    }
    const answer = state.answer();
    if (sign.checked) {
      try {
        answer.signature = await signed(answer);
      } catch {
        outcome.textContent = speech.say("cantSign");
      }
    }
    document.querySelector(".record")?.remove();
    document.body.append(recordOf({ answer, review, shots, speech }));
    return answer;
  }

  /** @param {AnswerData} answer */
  function messageOf(answer) {
    const lines = answer.frames.flatMap((frame) => [
      `${frame.name}: ${said(frame.say, frame.version, speech)}`,
      ...(frame.words ? [`  ${frame.words}`] : []),
      ...frame.pins.map((pin, i) => `  ${i + 1}. ${pin.words}`),
    ]);
    return [speech.say("intro", { title: review.title }), summary(answer, speech), ...(answer.words ? [answer.words] : []), "", ...lines, "", answer.by, "", speech.say("keep"), toMessage(answer)].join("\n");
  }

  const fileName = (/** @type {AnswerData} */ { by }) => `${`${review.title} - ${by}`.replace(/[\\/:*?"<>|\u0000-\u001f]+/g, "-").slice(0, 80)}.answer.json`;
  const fileOf = (/** @type {AnswerData} */ answer) => new File([toFile(answer)], fileName(answer), { type: "application/json" });

  /** @param {AnswerData} answer */
  async function share(answer) {
    const file = fileOf(answer);
    const message = { title: review.title, text: messageOf(answer) };
    const withFile = { ...message, files: [file] };
    await navigator.share(navigator.canShare?.(withFile) ? withFile : message);
    outcome.textContent = speech.say("sent");
  }

  /** @param {AnswerData} answer */
  async function mail(answer) {
    const head = `mailto:${review.mail}?subject=${encodeURIComponent(review.title)}&body=`;
    const whole = head + encodeURIComponent(messageOf(answer));
    const short = head + encodeURIComponent(`${speech.say("intro", { title: review.title })}\n${summary(answer, speech)}\n\n${answer.by}\n\n${toMessage(answer)}`);
    if (short.length > MAIL_MOST && whole.length > MAIL_MOST) return showText(answer);
    h("a", { href: whole.length > MAIL_MOST ? short : whole }).click();
    outcome.textContent = speech.say("mailed");
  }

  /** @param {AnswerData} answer */
  async function copy(answer) {
    await navigator.clipboard.writeText(messageOf(answer));
    outcome.textContent = speech.say("copied", { name: to });
  }

  /** @param {AnswerData} answer */
  async function link(answer) {
    await navigator.clipboard.writeText(review.home + toHash(answer));
    outcome.textContent = speech.say("copied", { name: to });
  }

  /** @param {AnswerData} answer */
  async function save(answer) {
    const file = fileOf(answer);
    const url = URL.createObjectURL(file);
    h("a", { href: url, download: file.name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
    outcome.textContent = speech.say("saved", { name: to });
  }

  /** What can always be done by hand. @param {AnswerData} answer */
  function showText(answer) {
    text.hidden = false;
    text.value = messageOf(answer);
    text.focus();
  }

  return {
    el,
    open() {
      const answer = state.answer();
      sum.textContent = summary(answer, speech);
      const told = answer.frames.some((frame) => frame.say !== answer.say || frame.pins.length > 0 || frame.words);
      points.replaceChildren(...(told ? answer.frames.map((frame) => h("li", {}, `${frame.name}: ${said(frame.say, frame.version, speech)}${frame.pins.length > 0 ? ` (${frame.pins.length})` : ""}`)) : []));
      name.value = state.get().by;
      words.value = state.get().words;
      sign.checked = state.get().sign;
      outcome.textContent = "";
      text.hidden = true;
      if (!el.open) el.showModal();
    },
  };
}
