/** What can be saved, in one dialog: one part open at a time. */

/** @import { Catalogue, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Save } from "../../save/save.js" */
/** @import { Notices } from "../notices.js" */

import { toLink } from "../../look/link.js";
import { findStage, isOn, stageSettings, stepSettings, valueOf } from "../../pure/settings.js";
import { GRIDS, option } from "../controls/option.js";
import { h, text } from "../dom.js";
import { icon } from "../icons.js";
import { choiceOf, createPackPart } from "./pack-part.js";

/**
 * @param {{ catalogue: Catalogue, save: Save, onsession: () => Promise<void>, client: Client, notices: Notices, state: () => State }} wiring
 */
export function createSaveDialog({ catalogue, save, onsession, client, notices, state }) {
  /** @param {() => Promise<void>} task */
  const run = (task) => () => {
    dialog.close();
    task().catch(notices.problem);
  };
  const { pictures, quality } = catalogue.handOver;
  const encodings = choiceOf(catalogue, "intake", "source", "encoding");
  let chosen = false;
  const format = option("Format", pictures, "png8", () => {
    chosen = true;
    prepare();
  });
  const wish = () => ({ format: format.value(), quality });
  const encoding = option("For pictures in", encodings.options, encodings.default);
  const grid = option("Grid", GRIDS, "33");
  const texture = h("p", { class: "quiet" });
  const savePack = action("Save pack", run(() => save.pack(pack.request(), pack.withFrame())));
  const pack = createPackPart({ catalogue, client, state, save: savePack, onproblem: notices.problem });
  const plates = catalogue.handOver.plates.map(({ id, label }) => ({ id, button: action(`Save ${label.toLowerCase()}`, run(() => save.plate(id))) }));
  const link = h("input", { class: "link-text", type: "text", readonly: true, "aria-label": "Link to this look", onfocus: () => link.select() });
  const close = h("button", { class: "round", type: "button", "aria-label": "Close", onclick: () => dialog.close() }, icon("close"));

  const packPart = part("A hand-over pack", "Everything an editor needs, in one zip: tables, and a note that says what goes in, what comes out and what tables can't carry.", [pack.el], savePack);
  packPart.addEventListener("toggle", examine);
  const dialog = h(
    "dialog",
    { class: "save", "aria-labelledby": "save-title", onclose: rest },
    h("div", { class: "save-head" }, h("h2", { id: "save-title" }, "Save"), close),
    part("The picture", "This frame with the look on it, every step included, at full size.", [format.el], action("Save picture", run(() => save.picture(wish())))),
    part("A table", "The look's colour and tone as a .cube file, for footage in one camera encoding.", [encoding.el, grid.el, texture], action("Save table", run(() => save.table({ encoding: encoding.value(), grid: Number(grid.value()) })))),
    packPart,
    part("Plates", "Texture that no table can carry, in the size of this frame: grain and dust as 16-bit PNG, this frame's halation as OpenEXR, which holds light of any brightness. Each file says how to lay it over the picture. The command line writes sequences.", [], ...plates.map(({ button }) => button)),
    part("The look", "All settings as a small file, or as a link that opens this page with the look on.", [link], action("Save look", run(() => save.look())), action("Copy link", run(() => save.link(link.value)))),
    part("The session", "Everything on the desk in one file: the look with its history, and every frame with its original. Drop it on the page to go on with it, here or elsewhere.", [], action("Save session", run(onsession))),
    h("p", { class: "quiet licences" }, h("a", { href: "licences.txt", target: "_blank" }, "Licences of the software in this page")),
  );

  /** Tables are examined only while someone looks at the pack. */
  function examine() {
    if (dialog.open && packPart.open) pack.open().catch(notices.problem);
    else pack.close();
  }

  function prepare() {
    save.prepare(wish());
  }

  function rest() {
    pack.close();
    save.rest();
  }

  return {
    el: dialog,
    async open() {
      const now = state();
      const source = stageSettings(now.history.present, "intake", now.current);
      encoding.set(String(valueOf(stepSettings(source, "source"), encodings)));
      text(texture, leftOut(catalogue, now));
      const negative = stageSettings(now.history.present, "negative", now.current);
      for (const { id, button } of plates) {
        const step = findStage(catalogue, "negative").steps.find((it) => it.id === id);
        button.disabled = !step || !isOn(stepSettings(negative, id), step);
        button.title = button.disabled ? "This step is off in the look" : "";
      }
      if (!chosen) format.set(usualFormat(now));
      dialog.showModal();
      prepare();
      examine();
      const { canonical } = await client.readLook(JSON.stringify(now.history.present.look));
      link.value = new URL(await toLink(canonical), location.href).href;
    },
  };
}

/**
 * What a picture of the frame's kind is mostly saved as.
 * @param {State} state
 */
function usualFormat({ reel, current }) {
  const name = reel.find(({ id }) => id === current)?.name ?? "";
  return /\.jpe?g$/i.test(name) ? "jpeg" : "png8";
}

/**
 * @param {Catalogue} catalogue
 * @param {State} state
 */
function leftOut(catalogue, { history, current }) {
  const names = catalogue.stages.flatMap((stage) => {
    const settings = stageSettings(history.present, stage.id, current);
    return stage.steps.filter((step) => step.texture && isOn(stepSettings(settings, step.id), step)).map((step) => step.label.toLowerCase());
  });
  return names.length > 0 ? `Not in the table: ${names.join(", ")}, and this frame's trim.` : "Not in the table: this frame's trim.";
}

/**
 * @param {string} title
 * @param {string} words
 * @param {HTMLElement[]} options
 * @param {...HTMLElement} actions
 */
function part(title, words, options, ...actions) {
  return h(
    "details",
    { class: "save-part", name: "save-part", open: title === "The picture" },
    h("summary", {}, h("h3", {}, title), icon("fold")),
    h("p", {}, words),
    ...options,
    h("div", { class: "save-actions" }, ...actions),
  );
}

/**
 * @param {string} label
 * @param {() => void} onclick
 */
function action(label, onclick) {
  return h("button", { class: "pill", type: "button", onclick }, label);
}
