/** The lesson on paper: a chapter a page, its curve as lines. */

/** @import { Catalogue, RenderSettings, Shown, StageId } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */

import { h } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";
import { CHAPTERS, readsOf } from "./chapters.js";
import { createCurveView } from "./curve-view.js";

/**
 * @param {{ catalogue: Catalogue, client: Client, settings: RenderSettings, picture: (stage: StageId) => Promise<Shown | null> }} wiring
 */
export async function printLesson({ catalogue, client, settings, picture }) {
  const pages = [];
  for (const [i, chapter] of CHAPTERS.entries()) {
    const found = await client.greyCurve(chapter.stage, settings, "hand-out");
    if (!found) continue;
    const reads = readsOf(found);
    const curve = createCurveView(catalogue);
    curve.show(found, chapter.stage);
    const shown = await picture(chapter.stage);
    const canvas = h("canvas", { width: 1, height: 1 });
    if (shown) paint(canvas, shown);
    pages.push(
      h(
        "section",
        {},
        h("h1", {}, `${i + 1}. ${chapter.title}`),
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
