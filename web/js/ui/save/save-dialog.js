/** What can be saved, in one dialog that stays open: what is saved is said in it, and so is how far that is. */

/** @import { Catalogue, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Save } from "../../save/save.js" */
/** @import { Notices } from "../notices.js" */

import { toLink } from "../../look/link.js";
import { onReel } from "../../pure/history.js";
import { footageEncoding } from "../../pure/save/footage.js";
import { findStage, isOn, stageSettings, stepSettings, valueOf } from "../../pure/settings.js";
import { GRIDS, option } from "../controls/option.js";
import { attribute, h, text } from "../dom.js";
import { icon } from "../icons.js";
import { keepOptions, keptOptions } from "./kept-options.js";
import { choiceOf, createPackPart } from "./pack-part.js";
import { createParts } from "./parts.js";
import { createPicturePart } from "./picture-part.js";

/**
 * @param {{ catalogue: Catalogue, save: Save, onsession: () => Promise<void>, client: Client, notices: Notices,
 *   region: HTMLElement, state: () => State }} wiring region: where notices are, which the dialog takes in while it is open
 */
export function createSaveDialog({ catalogue, save, onsession, client, notices, region, state }) {
  /** @param {() => Promise<unknown>} task */
  const run = (task) => () => void task().catch(notices.problem);
  const { handOver } = catalogue;
  const encodings = choiceOf(catalogue, "intake", "source", "encoding");
  const screens = choiceOf(catalogue, "screen", "display", "screen").options.map(({ id }) => id);
  const kept = keptOptions();
  const picture = createPicturePart({ handOver, save, state, onchange: prepare });
  const encoding = option("For footage in", encodings.options, encodings.default, () => keepOptions({ encoding: encoding.value() }));
  const grid = option("Grid", GRIDS, kept.grid ?? "33", () => keepOptions({ grid: grid.value() }));
  const texture = h("p", { class: "quiet" });
  const savePack = action("Save pack", run(() => save.pack(pack.request(), pack.withFrame())));
  const pack = createPackPart({ catalogue, client, state, save: savePack, onproblem: notices.problem });
  const plates = handOver.plates.map(({ id, label }) => ({ id, button: action(`Save ${label.toLowerCase()}`, run(() => save.plate(id))) }));
  const platesOff = h("p", { class: "quiet" });
  const link = h("input", { class: "link-text", type: "text", readonly: true, "aria-label": "Link to this look", onfocus: () => link.select() });
  const close = h("button", { class: "round", type: "button", "aria-label": "Close", onclick: () => dialog.close() }, icon("close"));
  const share = save.canShare() ? [action("Share \u2026", run(() => save.share(picture.wish())))] : [];
  const main = (/** @type {HTMLButtonElement} */ button) => (attribute(button, "class", "pill pill-lit"), button);

  const parts = createParts(
    [
      { id: "picture", name: "Picture", el: part("This frame with the look on it, with every step.", [picture.el], ...share, main(action("Save picture", run(() => save.picture(picture.wish()))))) },
      { id: "table", name: "Table", el: part("The look's colour and tone as a .cube file, for footage in one camera encoding.", [encoding.el, grid.el, texture], main(action("Save table", run(() => save.table({ encoding: encoding.value(), grid: Number(grid.value()) }))))) },
      { id: "pack", name: "Hand-over pack", el: part("Everything an editor needs, in one zip: tables, and a note that says what goes in, what comes out and what tables can't carry.", [pack.el], main(savePack)) },
      { id: "plates", name: "Plates", el: part("Texture that no table can carry, in the size of this frame, to be laid on the picture after the table: 16-bit PNG, grain and dust in a zip with their gain, which says how much of them shows at each code of the picture, and how to lay them. The command line writes sequences.", [platesOff], ...plates.map(({ button }) => button)) },
      { id: "look", name: "Look", el: part("All settings as a small file, or as a link that opens this page with the look on.", [link], action("Copy link", run(() => save.link(link.value))), main(action("Save look", run(() => save.look())))) },
      { id: "session", name: "Session", el: part("Everything on the desk in one file: the look with its history, and every frame with its original. Drop it on the page to go on with it, here or elsewhere.", [], main(action("Save session", run(onsession)))) },
    ],
    {
      label: "What to save",
      onopen(id) {
        keepOptions({ part: id });
        look();
      },
    },
  );
  const panels = h("div", { class: "save-panels" }, ...parts.panels);
  const foot = h("div", { class: "save-foot" });
  const dialog = h(
    "dialog",
    { class: "save", "aria-labelledby": "save-title", onclose: rest },
    h("div", { class: "save-head" }, h("h2", { id: "save-title" }, "Save"), close),
    h("div", { class: "save-body" }, parts.list, panels),
    foot,
  );
  if (kept.part) parts.choose(kept.part);

  /** The encoding that a table is most likely wanted for. */
  function footage() {
    const { reel, current, history } = state();
    const source = (/** @type {string | null} */ id) => String(valueOf(stepSettings(stageSettings(history.present, "intake", id), "source"), encodings));
    const offered = footageEncoding({ own: source(current), reel: onReel(reel, history.present).map(({ id }) => source(id)), last: keptOptions().encoding, usual: encodings.options[0]?.id ?? "", screens });
    return encodings.options.some(({ id }) => id === offered) ? offered : encodings.default;
  }

  /** What is looked at is made ready: a picture begun, tables examined; the rest is let go of. */
  function look() {
    if (!dialog.open) return;
    if (parts.open() === "picture") {
      picture.open();
      prepare();
    } else {
      picture.close();
      save.rest();
    }
    if (parts.open() === "pack") pack.open(footage()).catch(notices.problem);
    else pack.close();
  }

  function prepare() {
    if (dialog.open) save.prepare(picture.wish());
  }

  function rest() {
    pack.close();
    picture.close();
    save.rest();
    for (const said of region.querySelectorAll("[data-before]")) attribute(said, "data-before", undefined);
    document.body.append(region);
  }

  return {
    el: dialog,
    async open() {
      const now = state();
      encoding.set(footage());
      text(texture, leftOut(catalogue, now));
      const negative = stageSettings(now.history.present, "negative", now.current);
      for (const { id, button } of plates) {
        const step = findStage(catalogue, "negative").steps.find((it) => it.id === id);
        button.disabled = !step || !isOn(stepSettings(negative, id), step);
      }
      const off = handOver.plates.filter((_, i) => plates[i]?.button.disabled).map(({ label }) => label.toLowerCase());
      text(platesOff, off.length > 0 ? `Off in this look: ${off.join(", ")}. Turn a step on to save its plate.` : "");
      dialog.showModal();
      for (const said of region.querySelectorAll(":scope > :not(.notice-job)")) attribute(said, "data-before", "");
      foot.append(region);
      look();
      const { canonical } = await client.readLook(JSON.stringify(now.history.present.look));
      link.value = new URL(await toLink(canonical), location.href).href;
    },
  };
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
 * @param {string} words
 * @param {HTMLElement[]} options
 * @param {...HTMLElement} actions the main one last
 */
function part(words, options, ...actions) {
  return h("section", { class: "save-part" }, h("p", {}, words), ...options, h("div", { class: "save-actions" }, ...actions));
}

/**
 * @param {string} label
 * @param {() => void} onclick
 */
function action(label, onclick) {
  return h("button", { class: "pill", type: "button", onclick }, label);
}
