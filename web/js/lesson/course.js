/** A teacher's lesson as it is shown: page after page, each on the sheet of its kind, with its own frame and look. */

/** @import { CoursePage, Doc, Lesson, LessonItem, ReelFrame, State } from "../../types.js" */

import { CHAPTERS } from "./chapters.js";
import { DEMONSTRATIONS } from "./demonstrations.js";

/** What a lesson can name. */
export const KNOWN = { chapter: CHAPTERS.map(({ stage }) => stage), demonstration: DEMONSTRATIONS.map(({ id }) => id) };

/** Where it stands among those of its kind. @param {LessonItem} item */
const placeOf = ({ kind, id }) => /** @type {readonly string[]} */ (KNOWN[kind]).indexOf(id);

/** @param {LessonItem} item */
export const titleOf = (item) => (item.kind === "chapter" ? CHAPTERS : DEMONSTRATIONS)[placeOf(item)]?.title ?? item.id;

/** @typedef {{ open: (which: number, page: CoursePage) => void, close: () => void }} Shows */

/** @param {{ chapter: () => Promise<Shows>, demonstration: () => Promise<Shows> }} sheets */
export function createCourse(sheets) {
  /** @type {Shows | null} */
  let shown = null;
  return {
    /** @param {Lesson} lesson @param {() => void} onclose the person has put it away */
    async start({ items }, onclose) {
      const titles = items.map(titleOf);
      /** @param {number} at */
      async function go(at) {
        const item = items[at];
        if (!item) return;
        const next = await sheets[item.kind]();
        const before = shown;
        shown = next;
        if (before && before !== next) before.close();
        next.open(placeOf(item), {
          item,
          at,
          titles,
          items,
          go: (to) => void go(to),
          onclose() {
            if (shown !== next) return;
            shown = null;
            onclose();
          },
        });
      }
      await go(0);
    },
  };
}

/**
 * The frame that a page is shown on.
 * @param {State} state
 * @param {LessonItem | undefined} item
 * @returns {ReelFrame | null} the one that is looked at, if the page names none that is on the reel
 */
export function frameOf({ reel, current }, item) {
  const ready = reel.filter(({ stage }) => stage === "ready");
  return ready.find(({ name }) => item?.frame !== undefined && name === item.frame) ?? ready.find(({ id }) => id === current) ?? null;
}

/**
 * What a page is shown with.
 * @param {State} state
 * @param {LessonItem | undefined} item
 * @returns {Doc}
 */
export function docOf({ history }, item) {
  return item?.look ? { ...history.present, look: item.look } : history.present;
}

/**
 * What of a page can't be shown as it was meant.
 * @param {State} state
 * @param {LessonItem | undefined} item
 */
export function missingWords(state, item) {
  if (item?.frame === undefined || frameOf(state, item)?.name === item.frame) return "";
  return `This page is meant for ${item.frame}, which is not on the reel: it is shown on the frame that is looked at.`;
}
