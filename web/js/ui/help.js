/** Help: how to begin, what stays on this device, and which version this is. */

/** @import { Client } from "../bridge/client.js" */
/** @import { Actions } from "./actions.js" */

import { pageFile } from "../page-file.js";
import { h } from "./dom.js";
import { createSheet } from "./sheet.js";

const BEGIN = [
  "Drop a photo or a clip anywhere on the page, or press O. Photos from a camera, finished pictures and log footage are all read; Intake says how a frame was taken to be recorded, and can be told otherwise.",
  "Press Looks and choose one that suits it. Then follow the light from left to right: a stage opens with a press, what has been set in it comes first.",
  "Drag the grip to compare. Hold the picture, or the space bar, to see it as it was; hold a label to see it without that control.",
  "Save gives the picture, a table for an editor, a pack with all that an editor needs, or the look as a file or a link.",
];
const STAYS = [
  "Pictures, looks and history stay in this browser. The page's own policy forbids it to send anything anywhere, and it works without a network after the first visit.",
  "What is kept is listed under Kept work, and can be taken out as one file or thrown away there. A link holds a look and no picture.",
];

/**
 * @param {{ actions: Actions, client: Client }} wiring
 */
export function createHelp({ actions, client }) {
  const version = h("p", { class: "quiet" });
  const close = (/** @type {string} */ id) => () => (sheet.close(), actions.run(id));
  const sheet = createSheet({ title: "Help", kind: "help" });
  sheet.body.append(
    h(
      "div",
      { class: "help-text" },
      part("How to begin", BEGIN),
      h("p", { class: "save-actions" }, h("button", { class: "pill", type: "button", onclick: close("tour") }, "A walk along the light path"), h("button", { class: "pill", type: "button", onclick: close("keys") }, "List of keys")),
      part("What stays on this device", STAYS),
      h("h3", {}, "This version"),
      version,
      h("p", { class: "licences" }, h("a", { href: "licences.txt", target: "_blank" }, "Licences of the software in this page")),
    ),
  );
  return {
    async open() {
      sheet.open();
      const [about, release] = await Promise.all([client.about(), releaseName()]);
      version.textContent = `Lookwright ${about.version}, film model ${about.model}${release ? `, release ${release}` : ""}. Two pages of the same film model show the same look in the same way.`;
    },
  };
}

/**
 * @param {string} title
 * @param {string[]} sentences
 */
function part(title, sentences) {
  return h("section", {}, h("h3", {}, title), ...sentences.map((words) => h("p", {}, words)));
}

async function releaseName() {
  const answer = await fetch(pageFile("files.json")).catch(() => null);
  return answer?.ok ? /** @type {string | null} */ ((await answer.json()).release) : null;
}
