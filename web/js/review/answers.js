/** The sheet of answers: what came back, beside the look that is on the desk. */

/** @import { Catalogue, FrameAnswer } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { AnswerRow } from "./ledger.js" */
/** @import { ReviewDesk } from "./sender.js" */

import { verified } from "../../review/sign.js";
import { readAnswer } from "../pure/review/answer.js";
import { recordPage } from "../pure/review/record-page.js";
import { h } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { answerSaid, answeredLook, keyName, verdictOf, warningsOf } from "./judge.js";
import { createSmall } from "./small.js";

/** Width of a frame with its pins, in pixels. */
const PICTURE = 320;

/** @param {ReviewDesk & { catalogue: Catalogue, edits: Edits }} desk */
export function createAnswers(desk) {
  const { client, store, notices, download, ledger, catalogue, edits } = desk;
  const small = createSmall(desk);
  const list = h("div", { class: "answers" });
  const paste = h("textarea", { rows: "3", placeholder: "Paste the client\u2019s message here: a link, a text, or the file\u2019s content", "aria-label": "The client\u2019s message" });
  const problem = h("p", { class: "answer-problem", role: "alert" });
  const takeButton = h("button", { class: "pill", type: "button", onclick: () => void takePasted() }, "Take it in");
  const record = h("button", { class: "pill", type: "button", onclick: () => void saveRecord().catch(notices.problem) }, "Save a record");
  const sheet = createSheet({ title: "Answers", kind: "answers-sheet", tools: [record] });
  sheet.body.append(h("div", { class: "answers-in" }, paste, h("div", { class: "save-actions" }, takeButton), problem), list);

  async function takePasted() {
    problem.textContent = "";
    try {
      await take(paste.value);
      paste.value = "";
    } catch (error) {
      problem.textContent = error instanceof Error ? error.message : String(error);
      paste.focus();
    }
  }

  /** @param {string} text */
  async function take(text) {
    const { answer, edited } = readAnswer(text);
    const { fresh, kept } = await ledger.putAnswer(answer, edited);
    await show();
    notices.say(fresh ? `${answerSaid(answer)}.` : `This answer of ${answer.by}\u2019s is here already.`);
    if (!kept) notices.say("This browser could not keep the answer: save a record of it before you leave.", { tone: "problem" });
  }

  /** Everything there is to say about each answer. */
  async function judged() {
    const { sent, answers } = await ledger.all();
    const now = await client.readLook(JSON.stringify(store.get().history.present.look));
    return Promise.all(
      answers.map(async (row) => {
        const review = sent.find(({ id }) => id === row.answer.review);
        const { answer, edited } = row;
        const signed = answer.signature ? await verified(answer) : false;
        const look = answeredLook(answer, review);
        // What was sent by an earlier release is compared as this one reads it.
        const answered = look && (await client.readLook(JSON.stringify(look)).catch(() => null));
        return { row, verdict: verdictOf({ answer, answered, now, catalogue }), warnings: warningsOf({ answer, edited, sent: review, signed }), key: signed ? keyName(answer) : "" };
      }),
    );
  }

  async function show() {
    const [all, { sent }] = [await judged(), await ledger.all()];
    const waiting = sent.filter(({ id }) => !all.some(({ row }) => row.answer.review === id));
    record.disabled = all.length === 0;
    list.replaceChildren(
      ...all.map((it) => entry(it, all.filter(({ key }) => key && key === it.key).length)),
      ...(waiting.length > 0 ? [h("h3", {}, "Sent, without an answer yet"), h("ul", {}, ...waiting.map(({ review }) => h("li", {}, `${review.title}${review.to ? `, to ${review.to}` : ""}, ${whenSaid(review.made)}`)))] : []),
    );
    if (list.children.length === 0) list.append(h("p", { class: "quiet" }, "Nothing was sent for a yes yet. When an answer comes, drop its file on the page or paste its text here."));
  }

  /**
   * @param {Awaited<ReturnType<typeof judged>>[number]} judgement
   * @param {number} together how many answers have its key
   */
  function entry({ row, verdict, warnings, key }, together) {
    const { answer } = row;
    const { look } = verdict;
    const frames = answer.frames.filter((frame) => frame.say || frame.words || frame.pins.length > 0);
    const acts = [
      ...(look && verdict.state === "changed" ? [button("Put that look on", () => edits.setLook(look))] : []),
      removal(row),
    ];
    return h(
      "article",
      { class: "answer", "data-state": verdict.state, "data-say": answer.say },
      h("h3", {}, `${answerSaid(answer)}.`),
      h("p", { class: "quiet" }, `${answer.title} \u00b7 ${whenSaid(answer.at)}`),
      ...warnings.map((words) => h("p", { class: "answer-problem" }, words)),
      h("p", {}, verdict.words),
      ...(answer.words ? [h("blockquote", {}, answer.words)] : []),
      h("div", { class: "answer-frames" }, ...frames.map(frameOf)),
      ...(key ? [h("p", { class: "quiet" }, `Signed with key ${key}${together > 1 ? `, as ${together - 1} more here` : ""}: the same browser, which proves no name.`)] : []),
      h("div", { class: "save-actions" }, ...acts),
    );
  }

  /** @param {FrameAnswer} frame */
  function frameOf({ name, say, version, words, pins }) {
    const canvas = h("canvas", { width: PICTURE, height: (PICTURE * 2) / 3 });
    const found = store.get().reel.find((it) => it.name === name);
    if (found) small.paint(canvas, found, "width");
    const marks = pins.map(({ x, y }, i) => {
      const mark = h("span", { class: "answer-pin", "aria-hidden": "true" }, String(i + 1));
      Object.assign(mark.style, { left: `${x * 100}%`, top: `${y * 100}%` });
      return mark;
    });
    const said = say === "yes" ? `yes to ${version}` : say === "change" ? `please change ${version}` : "no answer";
    return h(
      "figure",
      {},
      h("div", { class: "answer-picture", hidden: !found }, canvas, ...marks),
      h("figcaption", {}, `${name}: ${said}`, ...(words ? [h("br"), words] : [])),
      h("ol", {}, ...pins.map((pin) => h("li", {}, `${pin.words}${pin.version === version ? "" : ` (on ${pin.version})`}`))),
    );
  }

  /** Throwing away is asked for twice. @param {AnswerRow} row */
  function removal({ id }) {
    const sure = button("Throw away for good", () => ledger.removeAnswer(id));
    /** @type {HTMLButtonElement} */
    const first = h("button", { class: "pill", type: "button", onclick() { first.replaceWith(sure); sure.focus(); } }, "Throw away");
    return first;
  }

  /** @param {string} label @param {() => unknown} act */
  function button(label, act) {
    return h("button", { class: "pill", type: "button", onclick: () => void Promise.resolve(act()).then(show).catch(notices.problem) }, label);
  }

  async function saveRecord() {
    const entries = (await judged()).map(({ row, verdict, warnings, key }) => ({ answer: row.answer, said: answerSaid(row.answer), warnings, key, since: verdict.words }));
    const title = `Sign-offs, ${store.get().history.present.look.name || "Lookwright"}`;
    download("Sign-offs.html", recordPage({ title, made: new Date(), entries }), "text/html", "Open it to print it, or to save it as a PDF.");
  }

  return {
    sheet,
    async open() {
      problem.textContent = "";
      await show();
      sheet.open();
    },
    /** @param {string} text a file, an address or a message; rejects with one sentence */
    async take(text) {
      await take(text);
      sheet.open();
    },
  };
}

/** @param {string} at in UTC */
const whenSaid = (at) => new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
