/** The sheets for choosing, made when the first of them is opened. */

/** @import { Catalogue, Core } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Looks } from "../kept/looks.js" */
/** @import { Player } from "../clip/player.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Versions } from "./versions.js" */

import { once } from "../once.js";
import { h } from "../ui/dom.js";
import { createAcross } from "./across.js";
import { createBatchSheet } from "./batch/sheet.js";
import { createCompare } from "./compare.js";
import { createContact } from "./contact/sheet.js";
import { libraryChoices } from "./looks.js";
import { createRenderers } from "./renderers.js";
import { createLookShelf } from "./shelf.js";
import { createSizes } from "./sizes.js";
import { createStrips } from "./strips.js";
import { createWall } from "./wall.js";

/**
 * @typedef {object} Wiring
 * @property {Core} core
 * @property {Catalogue} catalogue
 * @property {Store} store
 * @property {Edits} edits
 * @property {Client} client
 * @property {Notices} notices
 * @property {Frames} frames
 * @property {Bridge} source the worker that holds the current frame
 * @property {() => Bridge} reader
 * @property {() => Player} player
 * @property {Versions} versions
 * @property {Download} download
 * @property {Looks | null} looks one's own; null where a browser keeps nothing
 */

/** @param {Wiring} wiring */
export function createSheets({ core, catalogue, store, edits, client, notices, frames, source, reader, versions, download, looks }) {
  const renderers = createRenderers({ core, source, reader, isHeld: frames.isHeld, fileOf: frames.fileOf });
  const library = () => libraryChoices(catalogue, client);
  const shelf = createLookShelf({ catalogue, store, edits, client, renderers, download, looks, library });
  const compare = createCompare({ core, catalogue, store, edits, client, notices, renderers, versions, fileOf: frames.fileOf, others: async () => [...(await shelf.choices()), ...(await library())] });
  const strips = createStrips({ catalogue, store, edits, renderers });
  const wall = createWall({
    catalogue,
    store,
    edits,
    client,
    notices,
    renderers,
    more: async () => [...versions.choices(), ...(await shelf.choices())],
    tools: [
      h("button", { class: "pill", type: "button", onclick: () => (wall.close(), strips.open()) }, "Test strips"),
      h("button", { class: "pill", type: "button", onclick: () => (wall.close(), contact.open("looks").catch(notices.problem)) }, "Contact sheet"),
      h("button", { class: "pill", type: "button", onclick: () => (wall.close(), shelf.open().catch(notices.problem)) }, "Your looks"),
    ],
    oncompare: (first, second) => compare.open(first, second).catch(notices.problem),
  });
  const sizes = createSizes({ reader, fileOf: frames.fileOf });
  const batch = createBatchSheet({ core, catalogue, store, download, fileOf: frames.fileOf, originalOf: frames.originalOf, renderers, reader, sizes });
  const across = createAcross({ catalogue, store, edits, notices, renderers });
  const contact = createContact({ catalogue, store, client, renderers, reader, sizes, download, choices: async () => [...versions.choices(), ...(await shelf.choices()), ...(await library())] });
  const lesson = once(async () => (await import("../lesson/lesson.js")).createLesson({ catalogue, store, client, renderers, onown: () => own().then((it) => it.open(), notices.problem) }));
  const showing = once(async () => (await import("../lesson/showing.js")).createShowing({ catalogue, store, renderers }));
  const worksheet = once(async () => (await import("../lesson/worksheet.js")).createWorksheet({ catalogue, store, source, renderers }));
  /** A teacher's own lesson: edited here, shown on the sheets of its pages. */
  const own = once(async () => {
    const [{ createOwnLesson }, { createCourse }] = await Promise.all([import("../lesson/own-lesson.js"), import("../lesson/course.js")]);
    const course = createCourse({ chapter: lesson, demonstration: showing });
    const edit = createOwnLesson({
      catalogue,
      store,
      client,
      download,
      onshow: (of) => course.start(of, edit.open).catch(notices.problem),
      onworksheet: (of) => worksheet().then((it) => it.open(of), notices.problem),
    });
    return edit;
  });
  const frame = () => store.get().reel.find(({ id }) => id === store.get().current && frames.isHeld(id)) ?? null;
  const still = once(async () => (await import("../look/still-sheet.js")).createStillSheet({ core, catalogue, store, client, edits, notices, renderers, frame, fileOf: frames.fileOf }));
  return { wall, compare, strips, batch, shelf, across, contact, lesson, showing, own, worksheet, still, library };
}
