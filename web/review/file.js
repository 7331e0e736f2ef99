/** The review as one file: what it says is in a block of JSON, its pictures are in the document. */

/** @import { ReviewShot } from "../types.js" */

import { readReview } from "../js/pure/review/review.js";
import { find, h } from "../js/ui/dom.js";
import { mountReview } from "./app.js";

/** @returns {ReviewShot[]} */
function shots() {
  return [...document.querySelectorAll("img[data-kind]")].map((image) => {
    const { frame = "0", kind = "before", crop } = /** @type {HTMLImageElement} */ (image).dataset;
    return { frame: Number(frame), kind, crop: crop !== undefined, src: image.getAttribute("src") ?? "" };
  });
}

const root = find("#review", HTMLElement);
try {
  mountReview(root, readReview(JSON.parse(find("#data", HTMLScriptElement).textContent ?? "")), shots());
} catch (error) {
  // The pictures stay, as they do without a script.
  root.prepend(h("p", { class: "problem", role: "alert" }, error instanceof SyntaxError ? "This review is damaged: it was cut short on its way. Ask for it again." : error instanceof Error ? error.message : String(error)));
}
