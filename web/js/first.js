/** The very first visit: a small finished picture stands where the real one will be. */

import { pageFile } from "./page-file.js";
import { fetchFirst } from "./reel/demo.js";

const VISITED = "lookwright.visited";

/** Shows it, unless this browser has been here before: then the work is what is wanted. */
export function showFirst() {
  if (visited()) return;
  // What will be shown is on its way while the core is.
  fetchFirst().catch(() => {});
  const picture = new Image();
  picture.className = "first-picture";
  picture.alt = "A window box through the look Kitchen window; the page is being loaded";
  picture.src = pageFile("demo/first.jpg").href;
  const put = () => document.querySelector("#table")?.append(picture);
  if (document.querySelector("#table")) put();
  else document.addEventListener("DOMContentLoaded", put, { once: true });
}

/** Takes it away. */
export function endFirst() {
  document.querySelector(".first-picture")?.remove();
  try {
    localStorage.setItem(VISITED, "yes");
  } catch {
    // Then it is shown the next time, too.
  }
}

function visited() {
  try {
    return localStorage.getItem(VISITED) !== null;
  } catch {
    return true;
  }
}
