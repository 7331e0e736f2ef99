/** The lesson: the light path as chapters on the person's own frame, for a classroom's wall and for paper. */

/** @import { Catalogue, CoursePage, Doc, LessonItem, NumberControl, ReelFrame, Shown } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Renderers, Wish } from "../choose/renderers.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Chapter } from "./chapters.js" */

import { createGallery } from "../choose/gallery.js";
import { renderSettings } from "../picture/render-settings.js";
import { reading } from "../pure/readings.js";
import { findStage, findStep, stageSettings, stepSettings, valueOf, withValue } from "../pure/settings.js";
import { attribute, h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { pageOf, withPage, withoutPage } from "./address.js";
import { CHAPTERS, readsOf } from "./chapters.js";
import { docOf, frameOf, missingWords } from "./course.js";
import { createCurveView } from "./curve-view.js";
import { printLesson } from "./hand-out.js";
import { createPages } from "./pages.js";

/**
 * @typedef {object} Wiring
 * @property {Catalogue} catalogue
 * @property {Store} store
 * @property {Client} client
 * @property {Renderers} renderers
 */

/** @param {Wiring & { onown: () => void }} wiring onown: a teacher's own lesson is asked for */
export function createLesson({ catalogue, store, client, renderers, onown }) {
  let at = 0;
  /** Of a teacher's lesson. @type {CoursePage | null} */
  let page = null;
  /** What the slider of the chapter adds, on a copy of the look: one's own stays as it is. */
  let turned = 0;
  let asked = 0;

  const number = h("span", { class: "lesson-number", "aria-hidden": "true" });
  const title = h("h3", { class: "lesson-title", tabindex: -1 });
  const note = h("p", { class: "lesson-note" });
  const film = h("p", {});
  const shown = h("p", { class: "lesson-shown" });
  const maths = h("p", { class: "lesson-maths" });
  const source = h("p", { class: "lesson-source" });
  const curve = createCurveView(catalogue);
  const before = h("canvas", { class: "look-canvas", width: 3, height: 2, role: "img", "aria-label": "The picture as it reaches this stage" });
  const after = h("canvas", { class: "look-canvas", width: 3, height: 2, role: "img", "aria-label": "The picture as it leaves this stage" });
  const room = h("div", { class: "lesson-room" }, before, after);
  const arrives = h("span", {}, "as it arrives");
  const split = h("input", { type: "range", min: 0, max: 100, value: 50, "aria-label": "How much of the picture is shown as it arrives", oninput: () => room.style.setProperty("--split", `${split.value}%`) });
  const caption = h("figcaption", {}, arrives, split, h("span", {}, "as it leaves"));
  const problem = h("p", { class: "quiet", role: "status" });
  const tryWords = h("label", { for: "lesson-try" });
  const slider = h("input", { type: "range", id: "lesson-try", step: 0.05, oninput: turn });
  const turnedWords = h("output", { for: "lesson-try" });
  const back = h("button", { class: "pill", type: "button", onclick: () => reset() }, "As it was");
  const question = h("p", {});
  const answer = h("p", { class: "lesson-answer", hidden: true, role: "status" });
  const reveal = h("button", { class: "pill", type: "button", onclick: () => tellAnswer() }, "Answer");
  const pages = createPages({ titles: () => page?.titles ?? CHAPTERS.map((it) => it.title), go: (to) => (page ? page.go(to) : go(to)) });
  const paper = h("button", { class: "pill", type: "button", onclick: () => void hand() }, "Print a hand-out");
  const own = h("button", { class: "pill lesson-own", type: "button", onclick: () => (sheet.close(), onown()) }, "Your own lesson");
  const wide = h("button", { class: "pill", type: "button", onclick: () => void (document.fullscreenElement ? document.exitFullscreen() : sheet.el.requestFullscreen()) }, "Full screen");

  const gallery = createGallery({ renderers, wanted, onchange: tell });
  const sheet = createSheet({ title: "The light path", kind: "lesson", tools: [own, paper, ...(document.fullscreenEnabled ? [wide] : [])], onclose });
  sheet.body.append(
    h("div", { class: "lesson-seen" }, h("div", { class: "lesson-head" }, number, title), h("figure", {}, room, caption), problem),
    h("div", { class: "lesson-said" }, h("div", { class: "lesson-words" }, note, film, shown, maths, source), curve.el),
    h("div", { class: "lesson-do" }, h("div", { class: "lesson-row" }, h("b", {}, "Try"), tryWords, slider, turnedWords, back), h("div", { class: "lesson-row" }, h("b", {}, "Ask"), question, reveal), answer),
  );
  sheet.el.append(pages.el);
  sheet.el.addEventListener("keydown", (event) => {
    if (pages.key(event)) title.focus();
  });
  new ResizeObserver(() => gallery.work()).observe(sheet.body);

  const chapter = () => /** @type {Chapter} */ (CHAPTERS[at]);
  /** @returns {ReelFrame | null} */
  const frame = () => frameOf(store.get(), page?.item);
  const present = () => docOf(store.get(), page?.item);

  /** The frame whose settings are taught with; without one, those of a frame that has none. */
  const id = () => frame()?.id ?? "";

  /** The number that the chapter's slider changes, as the look has it. */
  function control() {
    const { stage, step, control: wanted } = chapter().place;
    const entry = findStep(findStage(catalogue, stage), step);
    const found = /** @type {NumberControl} */ (entry.controls.find((it) => it.id === wanted));
    const settings = stepSettings(stageSettings(present(), stage, id()), step);
    return { found, value: /** @type {number} */ (valueOf(settings, found)) };
  }

  /** What the slider turns the number to. */
  function turnedTo() {
    const { found, value } = control();
    return Math.min(Math.max(value + turned, found.min), found.max);
  }

  /** The document that is taught with. @returns {Doc} */
  function taught() {
    if (turned === 0) return present();
    const on = withValue(catalogue, present(), id(), { ...chapter().place, control: "on" }, true);
    return withValue(catalogue, on, id(), chapter().place, turnedTo());
  }

  /** @returns {Wish[]} */
  function wanted() {
    const now = frame();
    if (!now) return [];
    const settings = renderSettings(taught(), now.id);
    const wish = (/** @type {HTMLCanvasElement} */ canvas, /** @type {Chapter["stage"]} */ stage) => {
      return gallery.wish(canvas, stage, now, { width: room.clientWidth, height: room.clientHeight }, settings).map((it) => ({ ...it, stage }));
    };
    const arriving = CHAPTERS[at - 1];
    return [...wish(after, chapter().stage), ...(arriving ? wish(before, arriving.stage) : [])];
  }

  function tell() {
    text(problem, frame() ? (gallery.problem(chapter().stage) ?? missingWords(store.get(), page?.item)) : "Open a frame to see it here.");
  }

  async function draw() {
    const ticket = (asked += 1);
    gallery.work();
    tell();
    /** @type {Awaited<ReturnType<Client["greyCurve"]>>} */
    let found;
    try {
      found = await client.greyCurve(chapter().stage, renderSettings(taught(), id()));
    } catch {
      // The worker was lost; the picture, which fails with it, says so.
      if (ticket === asked) text(problem, "The curve could not be drawn. Turn the page and come back.");
      return;
    }
    if (!found || ticket !== asked) return;
    const reads = readsOf(found);
    curve.show(found, chapter().stage);
    text(shown, chapter().shown(reads));
    text(answer, chapter().answer(reads));
  }

  /** @param {number} to */
  function go(to) {
    if (!CHAPTERS[to]) return;
    at = to;
    turned = 0;
    const { title: words, film: what, maths: formula, source: from, try: trying, ask, reach } = chapter();
    text(number, String((page?.at ?? at) + 1));
    text(note, page?.item.note ?? "");
    text(title, words);
    text(film, what);
    text(shown, "");
    text(maths, formula);
    text(source, from);
    text(tryWords, trying);
    text(question, ask);
    answer.hidden = true;
    reveal.hidden = false;
    const { value } = control();
    Object.assign(slider, { min: String(reach[0]), max: String(reach[1]) });
    if (chapter().place.control === "slope") Object.assign(slider, { min: String(reach[0] - value), max: String(reach[1] - value) });
    slider.value = "0";
    // Nothing stands before the first stage but code.
    for (const el of [arrives, split]) el.hidden = at === 0;
    attribute(room, "data-whole", at === 0);
    pages.show(page?.at ?? at);
    if (!page) history.replaceState(null, "", withPage(location.hash, "lesson", at));
    sheet.body.scrollTop = 0;
    gallery.clear();
    said();
    void draw();
  }

  function said() {
    const { found } = control();
    const words = reading(turnedTo(), { unit: found.unit, digits: 2 });
    text(turnedWords, `${words} ${found.unit}`.trim());
    slider.setAttribute("aria-valuetext", turnedWords.textContent ?? "");
    back.hidden = turned === 0;
  }

  function turn() {
    turned = Number(slider.value);
    said();
    void draw();
  }

  function reset() {
    slider.value = "0";
    // The slider's own steps need not meet none.
    turned = 0;
    said();
    void draw();
    slider.focus();
  }

  function tellAnswer() {
    answer.hidden = false;
    reveal.hidden = true;
  }

  /** Each chapter on a page of its own, with this frame as it leaves the stage. */
  async function hand() {
    paper.disabled = true;
    try {
      await printLesson({ catalogue, client, items: page?.items.filter(({ kind }) => kind === "chapter"), settings: (item) => renderSettings(docOf(store.get(), item), frameOf(store.get(), item)?.id ?? ""), picture: pictureOf });
    } catch {
      text(problem, "The hand-out could not be made; try once more.");
    } finally {
      paper.disabled = false;
    }
  }

  /**
   * The frame as it leaves a stage, at a page's width.
   * @param {Chapter["stage"]} stage
   * @param {LessonItem} [item] of a teacher's lesson
   * @returns {Promise<Shown | null>}
   */
  function pictureOf(stage, item) {
    const now = frameOf(store.get(), item);
    if (!now) return Promise.resolve(null);
    return new Promise((resolve) => {
      let open = true;
      const end = (/** @type {Shown | null} */ result) => {
        open = false;
        use.close();
        resolve(result);
      };
      /** @type {Wish} */
      const wish = { key: `hand-out ${stage}`, frame: now, box: { width: 1200, height: 900 }, settings: renderSettings(docOf(store.get(), item), now.id), stage, take: end, fail: () => end(null) };
      const use = renderers.use(() => (open ? [wish] : []));
      use.work();
    });
  }

  function onclose() {
    gallery.close();
    const left = page;
    page = null;
    left?.onclose();
    if (pageOf(location.hash, "lesson") !== null) history.replaceState(null, "", withoutPage(location.hash));
  }

  return {
    close: sheet.close,
    /** @param {number} [chapter] from 0 @param {CoursePage | null} [of] a teacher's lesson */
    open(chapter = at, of = null) {
      page = of;
      gallery.open();
      sheet.open();
      go(Math.min(chapter, CHAPTERS.length - 1));
      title.focus();
    },
  };
}
