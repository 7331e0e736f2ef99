/** Offline after the first visit, and a word when there is a new release. */

/** @import { Notices } from "../ui/notices.js" */

import { pageFile } from "../page-file.js";

/** How often a page that stays open asks for a new release, in ms. */
const ASK_AGAIN = 3600_000;

/**
 * @param {{ notices: Notices, settle: () => Promise<void>, busy: () => boolean }} wiring settle: keeps
 *   what is not kept yet; busy: whether something is at work that a reload would break off
 */
export async function workOffline({ notices, settle, busy }) {
  if (!("serviceWorker" in navigator)) return;
  try {
    const { release } = await (await fetch(pageFile("files.json"))).json();
    // While the page is worked on, what was changed is to be seen at once.
    if (release === null) return;
    const { serviceWorker } = navigator;
    let controlled = serviceWorker.controller !== null;
    const registration = await serviceWorker.register(pageFile("sw.js"), { scope: "./" });

    serviceWorker.addEventListener("controllerchange", async () => {
      // The first one brings nothing new.
      if (!controlled) controlled = true;
      else if (busy()) notices.say("A new release of Lookwright is on; reload this tab when its work is done.", { stays: true, action: { label: "Reload", run: () => location.reload() } });
      else {
        await settle();
        location.reload();
      }
    });

    const offer = () => {
      if (!registration.waiting || !controlled) return;
      const run = () => registration.waiting?.postMessage("take over");
      notices.say("A new release of Lookwright is ready. Work is kept while it is put on.", { stays: true, topic: "release", action: { label: "Put it on", run } });
    };
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", offer));
    offer();
    setInterval(() => navigator.onLine && registration.update().catch(() => {}), ASK_AGAIN);
  } catch {
    // Offline use is a bonus: some private windows refuse service workers.
  }
}
