/** Offline after the first visit: the service worker is told what this page is made of. */

/** @import { Bridge } from "./bridge.js" */

/** @param {Bridge} bridge whose worker loaded files of its own */
export async function workOffline(bridge) {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register(new URL("../sw.js", import.meta.url), { scope: "./" });
    const registration = await navigator.serviceWorker.ready;
    const own = performance.getEntriesByType("resource").map((entry) => entry.name);
    const files = [location.href.split("#")[0], ...own, ...(await bridge.ask("files"))];
    registration.active?.postMessage({ keep: [...new Set(files)] });
  } catch {
    // Offline use is a bonus: some private windows refuse service workers.
  }
}
