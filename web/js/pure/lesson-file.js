/** A lesson as a file: see `lesson/LESSON.md`. Nothing in it is taken for more than text, numbers and looks. */

/** @import { Lesson, LessonItem, Pin } from "../../types.js" */

import { isRecord } from "./kept/check.js";
import { SIDES } from "./pins.js";

/** The key that a lesson begins with, and its version. */
const KEY = "lookwright_lesson";
const VERSION = 1;
/** The largest file, in bytes; and what fits into it. */
export const LESSON_BYTES = 500_000;
const ITEMS = 60;
const TITLE = 120;
const NOTE = 4000;
const NAME = 200;
const PLACES = 9;

/** Whether a file that begins like this wants to be a lesson. @param {string} head */
export const holdsLesson = (head) => /^\s*\{\s*"lookwright_lesson"/.test(head);

/** @typedef {Record<LessonItem["kind"], readonly string[]>} Known ids that there are */

/**
 * A lesson as its file has it, in pieces of plain JSON.
 * @param {Lesson} lesson
 */
export function lessonData({ title, items, places, side }) {
  return {
    [KEY]: VERSION,
    title,
    items: items.map(({ kind, id, note, frame, look }) => ({ [kind]: id, ...(note ? { note } : {}), ...(frame ? { frame } : {}), ...(look ? { look } : {}) })),
    ...(places.length > 0 ? { worksheet: { side, places: places.map(({ x, y }) => [x, y]) } } : {}),
  };
}

/**
 * @param {string} text of a file
 * @param {Known} known
 * @returns {Lesson} its looks are not checked yet
 * @throws {Error} one sentence
 */
export function readLesson(text, known) {
  /** @type {unknown} */
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    throw new Error("This is no lesson that can be read: its JSON is broken.");
  }
  return lessonOf(data, known);
}

/**
 * @param {unknown} data
 * @param {Known} known
 * @returns {Lesson}
 */
export function lessonOf(data, known) {
  if (!isRecord(data) || !(KEY in data)) throw new Error(`This is no lesson: it does not begin with "${KEY}".`);
  const version = data[KEY];
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1) throw new Error(`This is no lesson: its "${KEY}" is no version.`);
  if (version > VERSION) throw new Error("This lesson was written by a newer release of Lookwright; open it there.");
  only(data, [KEY, "title", "items", "worksheet"], "the lesson");
  const { items, worksheet } = data;
  if (!Array.isArray(items) || items.length === 0) throw new Error("This lesson has no pages: its \"items\" are missing.");
  if (items.length > ITEMS) throw new Error(`This lesson has ${items.length} pages; ${ITEMS} are as many as can be opened.`);
  return { title: words(data["title"] ?? "", TITLE, "its title"), items: items.map((item, i) => itemOf(item, `page ${i + 1}`, known)), ...worksheetOf(worksheet) };
}

/** @param {unknown} item @param {string} where @param {Known} known @returns {LessonItem} */
function itemOf(item, where, known) {
  if (!isRecord(item)) throw new Error(`This lesson is damaged: ${where} is no page.`);
  only(item, ["chapter", "demonstration", "note", "frame", "look"], where);
  const kinds = /** @type {const} */ (["chapter", "demonstration"]).filter((kind) => kind in item);
  const [kind] = kinds;
  if (!kind || kinds.length > 1) throw new Error(`This lesson is damaged: ${where} is neither a chapter nor a demonstration.`);
  const id = item[kind];
  if (typeof id !== "string" || !known[kind].includes(id)) throw new Error(`This lesson can't be shown here: there is no ${kind} ${JSON.stringify(id)?.slice(0, 40)}, which ${where} asks for.`);
  const { frame, look } = item;
  if (look !== undefined && !isRecord(look)) throw new Error(`This lesson is damaged: the look of ${where} is none.`);
  return {
    kind,
    id,
    note: words(item["note"] ?? "", NOTE, `the note of ${where}`),
    ...(frame === undefined ? {} : { frame: words(frame, NAME, `the frame of ${where}`) }),
    ...(look === undefined ? {} : { look: /** @type {import("../../types.js").LookData} */ (/** @type {unknown} */ (look)) }),
  };
}

/** @param {unknown} sheet @returns {Pick<Lesson, "places" | "side">} */
function worksheetOf(sheet) {
  if (sheet === undefined) return { places: [], side: SIDES[0] };
  const damaged = new Error("This lesson is damaged: its worksheet has no places that make sense.");
  if (!isRecord(sheet)) throw damaged;
  only(sheet, ["side", "places"], "its worksheet");
  const { side, places } = sheet;
  if (!SIDES.some((it) => it === side) || !Array.isArray(places) || places.length > PLACES) throw damaged;
  /** @type {Pin[]} */
  const read = places.map((place) => {
    const [x, y, ...more] = Array.isArray(place) ? place : [];
    if (![x, y].every((at) => Number.isInteger(at) && at >= 0 && at < 1e6) || more.length > 0) throw damaged;
    return { x, y };
  });
  return { places: read, side: Number(side) };
}

/** @param {Record<string, unknown>} record @param {string[]} keys @param {string} where */
function only(record, keys, where) {
  const strange = Object.keys(record).find((key) => !keys.includes(key));
  if (strange !== undefined) throw new Error(`This lesson can't be read: ${where} has ${JSON.stringify(strange.slice(0, 40))}, which means nothing here.`);
}

/** @param {unknown} text @param {number} most @param {string} what */
function words(text, most, what) {
  if (typeof text !== "string") throw new Error(`This lesson is damaged: ${what} is no text.`);
  if (text.length > most) throw new Error(`This lesson can't be read: ${what} has more than ${most} characters.`);
  // Signs that steer a terminal or turn the direction of writing are no words.
  return text.replace(/[\u0000-\u0008\u000b-\u001f\u007f\u202a-\u202e\u2066-\u2069]/g, "");
}
