/** Offline after the first visit: the service worker is told what this page is made of. */

import { pageFile } from "../page-file.js";

/** Every module, those of workers among them, as paths from the page. */
const LIST = pageFile("files.json");

export async function workOffline() {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register(pageFile("sw.js"), { scope: "./" });
    const registration = await navigator.serviceWorker.ready;
    const own = performance.getEntriesByType("resource").map((entry) => entry.name);
    /** @type {string[]} */
    const modules = await (await fetch(LIST)).json();
    const files = [location.href.split("#")[0], LIST.href, ...own, ...modules.map((path) => new URL(path, LIST).href)];
    registration.active?.postMessage({ keep: [...new Set(files)] });
  } catch {
    // Offline use is a bonus: some private windows refuse service workers.
  }
}
