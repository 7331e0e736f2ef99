/** A teacher's own lesson: which pages in which order, notes, frames and looks; kept with the session, saved as a file and opened again. */

/** @import { Catalogue, Lesson, LessonItem } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Store } from "../session/store.js" */

import { reasonOf } from "../bridge/bridge.js";
import { LESSON_BYTES, lessonData, lessonOf, readLesson } from "../pure/lesson-file.js";
import { fileStem } from "../save/download.js";
import { attach } from "../session/attached.js";
import { attribute, h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { KNOWN, titleOf } from "./course.js";

/** What it is attached to the work as. */
const TOPIC = "lesson";

/** @typedef {LessonItem & { out?: boolean }} Row out: it is left out */

/** All chapters in order; the demonstrations wait below. @returns {Row[]} */
const usualRows = () => [
  ...KNOWN.chapter.map((id) => ({ kind: /** @type {const} */ ("chapter"), id, note: "" })),
  ...KNOWN.demonstration.map((id) => ({ kind: /** @type {const} */ ("demonstration"), id, note: "", out: true })),
];

/**
 * @param {{ catalogue: Catalogue, store: Store, client: Client, download: Download, onshow: (lesson: Lesson) => void, onworksheet: (lesson: Lesson) => void }} wiring
 */
export function createOwnLesson({ store, client, download, onshow, onworksheet }) {
  let title = "";
  let rows = usualRows();
  let places = /** @type {Lesson["places"]} */ ([]);
  let side = 1;
  /** What an opened file took the place of. @type {unknown} */
  let before;

  const name = h("input", { class: "own-title", type: "text", maxlength: 120, placeholder: "Untitled lesson", "aria-label": "Title of the lesson", oninput: () => ((title = name.value), keep()) });
  const list = h("ol", { class: "own-pages" });
  const said = h("p", { class: "quiet", role: "status" });
  const back = h("button", { class: "pill", type: "button", hidden: true, onclick: () => restore() }, "Bring the one before back");
  const picker = h("input", { type: "file", hidden: true, accept: ".json", "aria-label": "A lesson\u2019s file", onchange: () => void picked() });
  const button = (/** @type {string} */ words, /** @type {() => void} */ onclick, kind = "pill") => h("button", { class: kind, type: "button", onclick }, words);
  const sheet = createSheet({
    title: "Your own lesson",
    kind: "own-lesson",
    tools: [button("Open lesson", () => picker.click()), button("Save lesson", save), button("Worksheet", () => leaveFor(onworksheet)), button("Show it", () => leaveFor(onshow), "pill pill-lit")],
  });
  sheet.body.append(
    h("p", {}, "Put the pages in your order, leave some out, and write what you want to be said. A page can bring the frame and the look that are on the desk now; pinned places go onto the worksheet."),
    h("div", { class: "own-head" }, name, picker),
    h("div", { class: "own-said" }, said, back),
    list,
  );

  /** @returns {Lesson} */
  function lesson() {
    const { pins, pinSide } = store.get();
    if (pins.length > 0) [places, side] = [[...pins], pinSide];
    return { title, items: rows.filter(({ out }) => !out).map(({ out: _, ...item }) => item), places, side };
  }

  function keep() {
    attach(store, TOPIC, lessonData(lesson()));
  }

  /** Pages that a lesson does not have wait below. @param {Lesson} given */
  function take(given) {
    title = given.title;
    ({ places, side } = given);
    const rest = usualRows().filter((row) => !given.items.some(({ kind, id }) => kind === row.kind && id === row.id));
    rows = [...given.items, ...rest.map((row) => ({ ...row, out: true }))];
    name.value = title;
    draw();
  }

  /** @param {(lesson: Lesson) => void} to */
  function leaveFor(to) {
    const now = lesson();
    if (now.items.length === 0) return text(said, "All pages are left out: put one back to show it.");
    sheet.close();
    to(now);
  }

  function save() {
    const now = lesson();
    if (now.items.length === 0) return text(said, "All pages are left out: put one back to save a lesson.");
    download(`${fileStem(title || "lesson")}.lesson.json`, `${JSON.stringify(lessonData(now), null, 2)}\n`, "application/json");
  }

  /**
   * Checks a file whole before anything of it is taken.
   * @param {File} file
   */
  async function read(file) {
    if (file.size > LESSON_BYTES) throw new Error(`This lesson is too large: ${Math.ceil(file.size / 1000)} kB, and ${LESSON_BYTES / 1000} kB are as many as are read.`);
    const found = readLesson(await file.text(), KNOWN);
    for (const [i, item] of found.items.entries()) {
      if (!item.look) continue;
      try {
        item.look = (await client.readLook(JSON.stringify(item.look))).look;
      } catch (error) {
        throw new Error(`The look of page ${i + 1} can\u2019t be read: ${reasonOf(error)}`);
      }
    }
    return found;
  }

  /** @param {File} file */
  async function open(file) {
    const found = await read(file);
    before = store.get().attached[TOPIC] ?? lessonData(lesson());
    take(found);
    keep();
    back.hidden = false;
    text(said, `${file.name} is open.`);
  }

  function restore() {
    take(lessonOf(before, KNOWN));
    keep();
    back.hidden = true;
    text(said, "");
  }

  async function picked() {
    const [file] = picker.files ?? [];
    picker.value = "";
    if (!file) return;
    try {
      await open(file);
    } catch (error) {
      text(said, `${file.name} was not opened: ${reasonOf(error)}`);
    }
  }

  /** @param {number} i @param {number} by */
  function move(i, by) {
    const to = i + by;
    const [row] = rows.splice(i, 1);
    if (!row) return;
    rows.splice(to, 0, row);
    keep();
    draw();
    const moved = list.children[to]?.querySelectorAll("button");
    const again = moved?.[by < 0 ? 0 : 1];
    (again?.disabled ? moved?.[by < 0 ? 1 : 0] : again)?.focus();
  }

  function draw() {
    list.replaceChildren(...rows.map(createRow));
  }

  /** @param {Row} row @param {number} i */
  function createRow(row, i) {
    const words = titleOf(row);
    const shown = h("input", { type: "checkbox", checked: !row.out, onchange: () => ((row.out = !shown.checked), keep(), attribute(el, "data-out", row.out)) });
    const note = h("textarea", { rows: 2, maxlength: 4000, placeholder: "Your note", "aria-label": `Your note on ${words}`, oninput: () => ((row.note = note.value), keep()) });
    note.value = row.note;
    const has = h("span", { class: "quiet" });
    const bring = h("button", { class: "pill", type: "button", onclick: () => (row.frame === undefined && row.look === undefined ? give() : drop()) });
    function say() {
      const bound = row.frame !== undefined || row.look !== undefined;
      text(has, bound ? [row.frame, row.look && `the look \u201c${row.look.name ?? "without a name"}\u201d`].filter(Boolean).join(", ") : "");
      text(bring, bound ? "Without them" : "With this frame and look");
      attribute(bring, "aria-label", `${bring.textContent}: ${words}`);
    }
    function give() {
      const { reel, current, history } = store.get();
      const frame = reel.find(({ id }) => id === current)?.name;
      if (frame !== undefined) row.frame = frame;
      row.look = history.present.look;
      say();
      keep();
    }
    function drop() {
      delete row.frame;
      delete row.look;
      say();
      keep();
    }
    say();
    const kind = row.kind === "chapter" ? "Chapter" : "Demonstration";
    const el = h(
      "li",
      { "data-out": row.out ?? false },
      h("div", { class: "own-move" }, arrow("\u2191", `Move up: ${words}`, i === 0, () => move(i, -1)), arrow("\u2193", `Move down: ${words}`, i === rows.length - 1, () => move(i, 1))),
      h("label", {}, shown, h("span", {}, h("span", { class: "quiet" }, `${kind} `), words)),
      note,
      h("div", { class: "own-with" }, bring, has),
    );
    return el;
  }

  /** @param {string} sign @param {string} label @param {boolean} disabled @param {() => void} onclick */
  function arrow(sign, label, disabled, onclick) {
    return h("button", { class: "round", type: "button", "aria-label": label, disabled, onclick }, sign);
  }

  /** What is attached to the session, if there is something that can be read. */
  function recall() {
    const kept = store.get().attached[TOPIC];
    if (kept === undefined) return;
    try {
      take(lessonOf(kept, KNOWN));
    } catch {
      // It came from another release, and stays as it is until something is changed here.
    }
  }

  return {
    open() {
      text(said, "");
      back.hidden = true;
      recall();
      draw();
      sheet.open();
    },
    /** A file that was dropped. @param {File} file */
    async take(file) {
      recall();
      await open(file);
      sheet.open();
    },
  };
}
