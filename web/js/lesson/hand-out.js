/** The lesson on paper: a chapter a page, its curve as lines. */

/** @import { Catalogue, LessonItem, RenderSettings, Shown, StageId } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */

import { h } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";
import { CHAPTERS, readsOf } from "./chapters.js";
import { createCurveView } from "./curve-view.js";

/**
 * @param {{ catalogue: Catalogue, client: Client, items: LessonItem[] | undefined, settings: (item?: LessonItem) => RenderSettings, picture: (stage: StageId, item?: LessonItem) => Promise<Shown | null> }} wiring
 *   items: the chapters of a teacher's lesson; all there are without
 */
export async function printLesson({ catalogue, client, items, settings, picture }) {
  const pages = [];
  const printed = items?.flatMap((item) => CHAPTERS.filter(({ stage }) => stage === item.id).map((chapter) => ({ chapter, item }))) ?? CHAPTERS.map((chapter) => ({ chapter, item: undefined }));
  for (const [i, { chapter, item }] of printed.entries()) {
    const found = await client.greyCurve(chapter.stage, settings(item), "hand-out");
    if (!found) continue;
    const reads = readsOf(found);
    const curve = createCurveView(catalogue);
    curve.show(found, chapter.stage);
    const shown = await picture(chapter.stage, item);
    const canvas = h("canvas", { width: 1, height: 1 });
    if (shown) paint(canvas, shown);
    pages.push(
      h(
        "section",
        {},
        h("h1", {}, `${i + 1}. ${chapter.title}`),
        ...(item?.note ? [h("p", { class: "lesson-note" }, item.note)] : []),
        h("p", {}, chapter.film),
        h("div", { class: "hand-out-pair" }, ...(shown ? [canvas] : []), curve.el),
        h("p", {}, chapter.shown(reads)),
        h("p", { class: "hand-out-maths" }, chapter.maths),
        h("p", { class: "hand-out-source" }, chapter.source),
        h("p", {}, h("b", {}, "Try: "), chapter.try),
        h("p", {}, h("b", {}, "Ask: "), chapter.ask),
        h("p", { class: "hand-out-answer" }, h("b", {}, "Answer: "), chapter.answer(reads)),
      ),
    );
  }
  printPages(pages);
}

/** @param {Node[]} pages sections */
export function printPages(pages) {
  const paper = h("div", { class: "hand-out" }, ...pages);
  document.body.append(paper);
  document.documentElement.dataset["printing"] = "";
  try {
    print();
  } finally {
    delete document.documentElement.dataset["printing"];
    paper.remove();
  }
}
