/** The worksheet: places of the frame whose numbers are to be read with the probe, on paper or here. Answers are checked against the core, and go nowhere. */

/** @import { Catalogue, Lesson, Pin, ReelFrame, TraceRow } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Renderers, Wish } from "../choose/renderers.js" */
/** @import { Store } from "../session/store.js" */

import { createGallery } from "../choose/gallery.js";
import { renderSettings } from "../picture/render-settings.js";
import { reading } from "../pure/readings.js";
import { isRight, numberOf, placesOn, questionsOf } from "../pure/worksheet.js";
import { attribute, h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { printPages } from "./hand-out.js";

/** @param {{ catalogue: Catalogue, store: Store, source: Bridge, renderers: Renderers }} wiring source: the worker that holds the frame that is looked at */
export function createWorksheet({ catalogue, store, source, renderers }) {
  const { axes } = catalogue.judging;
  /** @type {Lesson | null} */
  let lesson = null;
  /** @type {Pin[]} */
  let places = [];
  const canvas = h("canvas", { class: "look-canvas", width: 3, height: 2, role: "img", "aria-label": "The frame with its numbered places" });
  const marks = h("div", { class: "worksheet-marks", "aria-hidden": "true" });
  const picture = h("div", { class: "worksheet-picture" }, canvas, marks);
  const list = h("ol", { class: "worksheet-questions" });
  const intro = h("p", {});
  const said = h("p", { class: "quiet", role: "status" });
  const check = h("button", { class: "pill pill-lit", type: "button", onclick: () => void judge() }, "Check the answers");
  const pin = h("button", { class: "pill", type: "button", onclick: () => probe() }, "Go to the probe");
  const paper = h("button", { class: "pill", type: "button", onclick: () => print() }, "Print the worksheet");
  const gallery = createGallery({ renderers, wanted, onchange: () => {} });
  const sheet = createSheet({ title: "Worksheet", kind: "worksheet", tools: [paper], onclose: gallery.close });
  sheet.body.append(picture, h("div", { class: "worksheet-ask" }, intro, list, h("div", { class: "own-head" }, check, pin), said));
  /** @type {{ question: ReturnType<typeof questionsOf>[number], field: HTMLInputElement, verdict: HTMLElement }[]} */
  let rows = [];

  /** @returns {ReelFrame | null} */
  const frame = () => store.get().reel.find(({ id, stage }) => id === store.get().current && stage === "ready") ?? null;
  const side = () => lesson?.side ?? 1;

  /** @returns {Wish[]} */
  function wanted() {
    const now = frame();
    return now ? gallery.wish(canvas, "worksheet", now, { width: picture.clientWidth, height: picture.clientWidth }, renderSettings(store.get().history.present, now.id)) : [];
  }

  /** @param {ReturnType<typeof questionsOf>[number]} question */
  function asked({ place, stage, unit }) {
    const { x, y } = /** @type {Pin} */ (places[place]);
    const label = catalogue.stages.find(({ id }) => id === stage)?.label ?? stage;
    return `Put the probe on place ${place + 1} (x ${x}, y ${y}). Green after ${label}, in ${unit}:`;
  }

  function draw() {
    const info = frame()?.info;
    for (const el of [check, pin, paper]) el.disabled = !info;
    text(said, info ? "" : "Open a frame to ask about.");
    if (!info) return list.replaceChildren();
    places = placesOn(lesson?.places ?? [], info);
    const length = side();
    text(intro, `${frame()?.name}: read with ${length === 1 ? "one pixel" : `${length} \u00d7 ${length} pixels`}. Answers stay on this device.`);
    marks.replaceChildren(...places.map(({ x, y }, i) => mark(i, x / info.width, y / info.height)));
    rows = questionsOf(places.length, axes).map((question) => {
      const field = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", size: 8, "aria-label": asked(question) });
      return { question, field, verdict: h("output", { class: "worksheet-verdict" }) };
    });
    list.replaceChildren(...rows.map(({ question, field, verdict }) => h("li", {}, h("span", {}, asked(question)), " ", field, h("span", { class: "quiet" }, ` within \u00b1${question.tolerance}`), verdict)));
    return undefined;
  }

  /** @param {number} i @param {number} x @param {number} y */
  function mark(i, x, y) {
    const el = h("b", { class: "pin-name" }, String(i + 1));
    el.style.left = `${100 * x}%`;
    el.style.top = `${100 * y}%`;
    return el;
  }

  /** What the core reads at each place. */
  async function readings() {
    const now = /** @type {ReelFrame} */ (frame());
    const settings = renderSettings(store.get().history.present, now.id);
    /** @type {TraceRow[][]} */
    const found = [];
    for (const place of places) found.push(await source.ask("trace", { id: now.id, settings, ...place, side: side() }));
    return found;
  }

  async function judge() {
    check.disabled = true;
    try {
      const found = await readings();
      let right = 0;
      for (const { question, field, verdict } of rows) {
        const [, value = NaN] = found[question.place]?.find(({ stage }) => stage === question.stage)?.readings ?? [];
        const answer = numberOf(field.value);
        const good = answer !== null && isRight(answer, value, question);
        right += Number(good);
        attribute(verdict, "data-right", good);
        text(verdict, field.value.trim() === "" ? "Not answered." : answer === null ? "This is no number." : good ? `Right: the probe reads ${reading(value, question)}.` : "Not yet: read it once more.");
      }
      text(said, `${right} of ${rows.length} are right.`);
    } catch {
      text(said, "The frame could not be read; check once more.");
    } finally {
      check.disabled = false;
    }
  }

  /** The places become pins, whose numbers stand in the instruments. */
  function probe() {
    store.set({ pins: places, pinSide: side(), pinned: [], panel: "instruments" });
    sheet.close();
  }

  function print() {
    const copy = h("canvas", { width: canvas.width, height: canvas.height });
    copy.getContext("2d")?.drawImage(canvas, 0, 0);
    const shown = h("div", { class: "worksheet-picture" }, copy, marks.cloneNode(true));
    const lines = rows.map(({ question }) => h("li", {}, `${asked(question)} \u2003______________`));
    try {
      printPages([h("section", {}, h("h1", {}, lesson?.title || "Worksheet"), h("p", {}, intro.textContent ?? ""), shown, h("ol", { class: "worksheet-questions" }, ...lines))]);
    } catch {
      text(said, "The worksheet could not be printed; try once more.");
    }
  }

  new ResizeObserver(() => sheet.isOpen() && gallery.work()).observe(picture);

  return {
    /** @param {Lesson | null} of whose places are asked about */
    open(of) {
      lesson = of;
      gallery.open();
      sheet.open();
      draw();
      gallery.work();
    },
  };
}
