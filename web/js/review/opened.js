/** A review that came as a link: its pictures are fetched from beside the page, or opened by whoever looks, and rendered here. */

/** @import { Core, ReviewData, ReviewShot } from "../../types.js" */
/** @import { Source } from "./shots.js" */

import { mountReview } from "../../review/app.js";
import { languageOf } from "../../review/words/index.js";
import { reasonOf } from "../bridge/bridge.js";
import { pageFile } from "../page-file.js";
import { fetchBlob } from "../reel/fetched.js";
import { h } from "../ui/dom.js";
import { reviewFromHash } from "./link.js";
import { renderShots, withCrops } from "./shots.js";

/** The pictures' longer side, in pixels. */
const SIDE = 1600;

/**
 * Takes the page over.
 * @param {{ core: Core, hash: string }} given hash: of the address
 * @returns {Promise<void>} rejects with one sentence if the address is broken; the page is as it was then
 */
export async function openReview({ core, hash }) {
  const review = reviewFromHash(hash);
  if (!review) return;
  document.title = review.title || "A review";
  const style = h("link", { rel: "stylesheet", href: pageFile("review/review.css").href });
  document.querySelector('link[href*="css/page.css"]')?.replaceWith(style);
  document.querySelector('meta[name="color-scheme"]')?.setAttribute("content", "light dark");
  const words = h("p", { role: "status" });
  const root = h("div", { id: "review" }, h("h1", {}, review.title), words);
  document.body.replaceChildren(root);
  document.documentElement.dataset["ready"] = "";
  try {
    const sources = [];
    for (const [i, frame] of review.frames.entries()) sources.push(await sourceFor(frame, i, root));
    const looks = review.versions.map(({ letter, look }) => ({ letter, look }));
    const { result } = renderShots({ core, sources, looks, side: SIDE, tell: ({ done, total }) => (words.textContent = `${done} / ${total}`) });
    const { shots, crops } = await result;
    const files = await Promise.all(shots.map(async ({ frame, kind, crop, shown }) => {
      const canvas = new OffscreenCanvas(shown.width, shown.height);
      canvas.getContext("2d")?.putImageData(new ImageData(shown.pixels, shown.width, shown.height), 0, 0);
      return /** @type {ReviewShot} */ ({ frame, kind, crop, src: URL.createObjectURL(await canvas.convertToBlob({ type: "image/png" })) });
    }));
    mountReview(root, withCrops(review, crops), files, languageOf(navigator.languages));
  } catch (error) {
    words.setAttribute("role", "alert");
    words.textContent = reasonOf(error);
  }
}

/**
 * @param {ReviewData["frames"][number]} frame
 * @param {number} index
 * @param {HTMLElement} root
 * @returns {Promise<Source>}
 */
async function sourceFor({ name, url, settings = {} }, index, root) {
  const file = url ? await fetchBlob(pageFile(url).href).catch(() => asked(name, root)) : await asked(name, root);
  return { id: `review-${index}`, name, size: { width: 0, height: 0 }, settings, file: async () => file };
}

/**
 * Asks for a picture that does not lie beside the page.
 * @param {string} name
 * @param {HTMLElement} root
 * @returns {Promise<Blob>}
 */
function asked(name, root) {
  return new Promise((resolve) => {
    const input = h("input", { type: "file", onchange() {
      const [file] = input.files ?? [];
      if (!file) return;
      label.remove();
      resolve(file);
    } });
    const label = h("label", { class: "field" }, h("span", {}, `Open the picture \u201c${name}\u201d that came with this link; it stays on this device.`), input);
    root.append(label);
  });
}
