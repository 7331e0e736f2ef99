/** The sheet of a still to match: the still, the frame now and with the moves found, and these in words. */

/** @import { Catalogue, Core, LookData, Matched, ReelFrame, Shown } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Renderers } from "../choose/renderers.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

/**
 * @typedef {object} Wiring
 * @property {Core} core
 * @property {Catalogue} catalogue
 * @property {Store} store
 * @property {Client} client
 * @property {Edits} edits
 * @property {Notices} notices
 * @property {Renderers} renderers
 * @property {() => ReelFrame | null} frame
 * @property {(frame: ReelFrame) => Promise<Blob>} fileOf
 */
/** @typedef {ReturnType<typeof createStillSheet>} StillSheet */

import { Bridge, Superseded, reasonOf } from "../bridge/bridge.js";
import { renderSettings } from "../picture/render-settings.js";
import { matchSaid, moveSaid } from "../pure/looks/matched.js";
import { h, text } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";
import { createSheet } from "../ui/sheet.js";
import { createStillFrames } from "./still-frames.js";

/** As the command line has it. */
const CLOSELY = 0.4;

/** @param {Wiring} wiring */
export function createStillSheet({ core, catalogue, store, client, edits, notices, renderers, frame, fileOf }) {
  /** @type {File | null} */
  let still = null;
  /** @type {LookData | null} */
  let look = null;
  /** A worker of the sheet's own, with the whole core, and the frame that it is to hold. @type {{ bridge: Bridge, id: string, opened: Promise<unknown> } | null} */
  let worker = null;
  /** Counts questions: an answer to an older one is not shown. */
  let turn = 0;

  const picker = h("input", { type: "file", accept: "image/*", hidden: true, "aria-label": "A still to match", onchange: () => takeFile(picker.files?.[0]) });
  const choose = h("button", { class: "pill", type: "button", onclick: () => picker.click() }, "Choose a file");
  const accept = h("button", { class: "pill pill-lit", type: "button", disabled: true, onclick: onTake }, "Take these moves");
  const wanted = h("img", { alt: "The still", hidden: true, onerror: () => (wanted.hidden = true) });
  const now = h("canvas", { width: 1, height: 1, role: "img", "aria-label": "The frame now" });
  const then = h("canvas", { width: 1, height: 1, role: "img", "aria-label": "The frame with these moves" });
  const closely = h("input", { type: "range", min: "0", max: "1", step: "0.1", value: String(CLOSELY), "aria-label": "How closely", onchange: () => ask() });
  const closeRow = h("label", { class: "still-closely", hidden: true }, h("span", {}, "How closely"), closely, h("span", { class: "quiet" }, "To the left only what speaks of a look is taken over; to the right it comes as near as it can, even where that is only what the still shows."));
  const moves = h("tbody", {});
  const table = h("table", { class: "still-moves", hidden: true }, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Move"), h("th", { scope: "col" }, "From, to"), h("th", { scope: "col" }, "Error"))), moves);
  const words = h("div", { class: "still-words" });
  const said = h("p", { role: "status" });
  const sheet = createSheet({ title: "Match a still", kind: "still", onclose: leave });
  /** @param {string} name @param {Element} picture */
  const figure = (name, picture) => h("figure", { hidden: true }, picture, h("figcaption", {}, name));
  const wantedName = h("figcaption", {}, "The still");
  const sought = h("figure", { hidden: true }, wanted, wantedName);
  const frames = createStillFrames({ store, renderers, onchoose: take, onproblem: notices.problem });
  const results = [figure("This frame now", now), figure("With these moves", then)];
  // It scrolls on a small window, and holds nothing that takes the focus before a still is chosen.
  sheet.body.tabIndex = 0;
  sheet.body.append(
    h("div", {}, h("p", { class: "quiet" }, "Choose or drop a finished picture that this frame should look like, or take another frame of the reel. The look\u2019s own settings are fitted to it. A still of the same picture is matched closely; one that shows other things only roughly. Nothing leaves this device."), frames.el, closeRow, table, words),
    h("div", { class: "still-pictures" }, sought, ...results),
  );
  sheet.el.append(h("div", { class: "wall-foot" }, said, h("div", { class: "wall-tools" }, picker, choose, accept)));
  sheet.el.addEventListener("dragover", (event) => (event.preventDefault(), event.stopPropagation()));
  sheet.el.addEventListener("drop", (event) => {
    event.preventDefault();
    event.stopPropagation();
    takeFile(event.dataTransfer?.files[0]);
  });

  /** @param {File | undefined} file */
  function takeFile(file) {
    picker.value = "";
    if (!file) return;
    frames.let();
    take(file);
  }

  /** @param {File} file @param {string} [name] of the frame that it is */
  function take(file, name) {
    still = file;
    text(wantedName, name ? `The still: ${name}` : "The still");
    closely.value = String(CLOSELY);
    URL.revokeObjectURL(wanted.src);
    wanted.src = URL.createObjectURL(file);
    wanted.hidden = sought.hidden = false;
    ask();
  }

  function leave() {
    turn += 1;
    frames.close();
    worker?.bridge.end(new Superseded());
    worker = null;
  }

  /**
   * @param {ReelFrame} frame
   * @param {number} mine the question
   */
  async function open(frame, mine) {
    const file = await fileOf(frame);
    // The sheet may be left by now: nobody would end the worker.
    if (mine !== turn) throw new Superseded();
    if (worker?.id !== frame.id) {
      const bridge = worker?.bridge ?? new Bridge(core, { whole: true });
      const number = frame.clip?.number;
      const opened = bridge.ask("open", { id: frame.id, name: frame.name, file, ...(number === undefined ? {} : { number }) });
      worker = { bridge, id: frame.id, opened };
    }
    await worker.opened;
    return worker.bridge;
  }

  async function ask() {
    const current = frame();
    const file = still;
    if (!file) return;
    const mine = (turn += 1);
    look = null;
    accept.disabled = table.hidden = true;
    words.replaceChildren();
    if (!current) return text(said, "This frame is still being opened; choose the still again in a moment.");
    text(said, "Looking for moves \u2026");
    const settings = renderSettings(store.get().history.present, current.id);
    try {
      const bridge = await open(current, mine);
      const found = await bridge.ask("matchStill", { id: current.id, settings, file, name: file.name, closely: Number(closely.value) });
      const read = await client.readLook(found.look);
      /** @param {string} look @returns {Promise<Shown>} */
      const thumb = (look) => bridge.ask("thumb", { id: current.id, settings: { ...settings, look }, stage: "screen" });
      const [before, after] = [await thumb(settings.look), await thumb(JSON.stringify(read.look))];
      if (mine !== turn) return;
      look = read.look;
      show(found, before, after);
    } catch (error) {
      if (mine === turn) text(said, reasonOf(error));
    }
  }

  /**
   * @param {Matched} found
   * @param {Shown} before
   * @param {Shown} after
   */
  function show(found, before, after) {
    paint(now, before);
    paint(then, after);
    for (const it of results) it.hidden = false;
    moves.replaceChildren(
      ...found.moves.map((moved) => {
        const { name, change, error } = moveSaid(catalogue, moved);
        return h("tr", {}, h("th", { scope: "row" }, name), h("td", {}, change), h("td", {}, error));
      }),
    );
    table.hidden = found.moves.length === 0;
    accept.disabled = found.moves.length === 0;
    closeRow.hidden = found.samePicture;
    words.replaceChildren(...[...matchSaid(found), ...found.left].map((line) => h("p", {}, line)));
    text(said, found.moves.length === 1 ? "1 move found" : `${found.moves.length} moves found`);
  }

  function onTake() {
    if (!look) return;
    edits.setLook(look);
    sheet.close();
    notices.say("The look now follows the still.", { topic: "still", fades: true, action: { label: "Undo", run: edits.undo } });
  }

  return {
    open() {
      sheet.open();
      // The frame or its look may be others than last time; a frame that is the still is drawn anew as well.
      if (!frames.open() && still) ask();
    },
  };
}
