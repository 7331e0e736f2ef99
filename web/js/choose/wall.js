/** The look wall: every look on one's own frames, to be chosen from by looking. */

/** @import { Catalogue, ReelFrame } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Cell } from "./cell.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { renderSettings } from "../picture/render-settings.js";
import { isSought } from "../pure/looks/choices.js";
import { onReel } from "../pure/history.js";
import { h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { createCell } from "./cell.js";
import { createFrameMenu } from "./frame-menu.js";
import { createGallery } from "./gallery.js";
import { benchChoice, libraryChoices } from "./looks.js";
import { createPair } from "./pair.js";

/** Most pixels of a look that is seen large. */
const LARGE_MOST = 1_500_000;

/**
 * @param {{ catalogue: Catalogue, store: Store, edits: Edits, client: Client, notices: Notices, renderers: Renderers,
 *   more: () => Promise<Choice[]>, tools: Node[], oncompare: (first: Choice, second: Choice) => void }} wiring
 *   more: kept versions and one's own looks; tools: buttons for the foot
 */
export function createWall({ catalogue, store, edits, client, notices, renderers, more, tools, oncompare }) {
  /** @type {Choice[]} */
  let choices = [];
  let on = "";
  /** Pointed at. @type {Choice | null} */
  let looked = null;
  /** @type {Choice | null} */
  let large = null;
  /** The two that are marked. @type {[string | null, string | null]} */
  let marks = [null, null];
  /** @type {Map<string, Cell>} */
  const cells = new Map();
  const gallery = createGallery({
    renderers,
    wanted,
    onchange() {
      for (const { choice, update } of cells.values()) if (gallery.problem(choice().id)) update(choice(), { problem: gallery.problem(choice().id) });
      tell();
    },
  });

  const search = h("input", { class: "wall-search", type: "search", placeholder: "Find: dusk, faces, lamps, red", "aria-label": "Find a look", oninput: () => show(), onkeydown: onsearchkey });
  const filter = h("select", { class: "pill pill-menu", "aria-label": "Which looks", onchange: () => show() }, ...["All looks", "Yours", "Colour", "Black and white"].map((words) => h("option", {}, words)));
  const frameMenu = createFrameMenu({
    onchange() {
      gallery.clear();
      show();
    },
  });
  const sheet = createSheet({
    title: "Looks on your frame",
    kind: "wall",
    tools: [search, filter, frameMenu.el],
    onclose() {
      // Closing is told a moment later: by then it may be open again.
      if (sheet.isOpen()) return;
      gallery.close();
      seeLarge(null);
    },
  });
  const pair = createPair({
    size: () => frames()[0]?.info ?? null,
    ontake: take,
    oncompare: (first, second) => (sheet.close(), oncompare(first, second)),
    onresize: () => gallery.work(),
  });
  const grid = h("div", { class: "wall-grid", role: "group", "aria-label": "Looks", onkeydown }, pair.el);
  const none = h("p", { class: "quiet wall-none", hidden: true }, "No look has all of these words.");
  const count = h("p", { class: "quiet", role: "status" });
  const largeCanvas = h("canvas", { class: "look-canvas", width: 1, height: 1 });
  const largeName = h("p", {});
  const over = h("div", { class: "wall-large", hidden: true }, largeCanvas, largeName);
  const hints = h("p", { class: "wall-hints" }, ...[["arrows", "move"], ["hold", "see large"], ["1", ""], ["2", "mark two"], ["enter", "take it"]].flatMap(([key, words]) => [h("kbd", {}, key ?? ""), ` ${words} `]));
  sheet.body.append(grid, none, over);
  sheet.el.append(h("div", { class: "wall-foot" }, hints, count, h("div", { class: "wall-tools" }, ...tools)));
  new ResizeObserver(() => gallery.work()).observe(grid);

  const density = () => Math.min(3, window.devicePixelRatio || 1);
  const reel = () => onReel(store.get().reel, store.get().history.present).filter(({ stage, id }) => stage === "ready" || id === store.get().current);
  /** @returns {ReelFrame[]} */
  const frames = () => frameMenu.chosen(reel(), store.get().current);

  /** @param {Choice} choice @param {ReelFrame} frame */
  const settingsOf = (choice, frame) => renderSettings({ ...store.get().history.present, look: choice.look }, frame.id);

  /** @returns {Wish[]} */
  function wanted() {
    const [frame] = frames();
    if (!frame) return [];
    const wishes = large ? gallery.wish(largeCanvas, large.id, frame, largeRoom(), settingsOf(large, frame), "large") : [];
    const [first, second] = sides();
    if (pair.isShown()) for (const [i, choice] of [first, second].entries()) if (choice) wishes.push(...gallery.wish(pair.canvas(i), choice.id, frame, pair.room(), settingsOf(choice, frame), `pair ${i}`));
    const shown = [...cells.values()].filter((cell) => !cell.el.hidden);
    const inView = (/** @type {Cell} */ { el }) => {
      const { bottom, top } = el.getBoundingClientRect();
      return bottom > 0 && top < innerHeight;
    };
    const all = [...shown.filter(inView), ...shown.filter((cell) => !inView(cell))];
    for (const cell of all) {
      const canvases = cell.canvases();
      frames().forEach((it, i) => canvases[i] && wishes.push(...gallery.wish(canvases[i], cell.choice().id, it, cell.room(), settingsOf(cell.choice(), it))));
    }
    return wishes;
  }

  function largeRoom() {
    const { clientWidth: width, clientHeight: height } = sheet.body;
    const scale = Math.min(1, Math.sqrt(LARGE_MOST / Math.max(1, width * height * density() ** 2)));
    return { width: width * scale, height: height * scale };
  }

  /** @returns {[Choice | null, Choice | null]} what the pair shows */
  function sides() {
    const find = (/** @type {string | null} */ id) => choices.find((choice) => choice.id === id) ?? null;
    const first = find(marks[0]) ?? find(on);
    return [first, find(marks[1]) ?? (looked !== first ? looked : null) ?? choices.find((choice) => choice !== first) ?? null];
  }

  /** @param {Choice} choice */
  function isListed(choice) {
    const kind = filter.value;
    if (kind === "Yours" && choice.kind === "library") return false;
    if (kind === "Colour" && !choice.colour) return false;
    if (kind === "Black and white" && choice.colour) return false;
    return isSought(choice, search.value);
  }

  function show() {
    const wide = frames().length;
    for (const [id, cell] of cells) {
      if (choices.some((choice) => choice.id === id)) continue;
      cell.el.remove();
      cells.delete(id);
    }
    for (const [i, choice] of choices.entries()) {
      let cell = cells.get(choice.id);
      if (!cell) {
        cell = createCell(choice, { ontake: take, onlook, onlarge: seeLarge });
        cells.set(choice.id, cell);
      }
      // Behind the pair, in their order; one that stands there keeps its focus.
      const there = grid.children[i + 1] ?? null;
      if (there !== cell.el) grid.insertBefore(cell.el, there);
      cell.el.hidden = !isListed(choice);
      const place = marks.indexOf(choice.id);
      const mark = place >= 0 ? String(place + 1) : (choice.letter ?? "");
      cell.update(choice, { frames: wide, on: choice.id === on, mark, problem: gallery.problem(choice.id) });
    }
    const listed = [...cells.values()].filter(({ el }) => !el.hidden);
    if (!listed.some(({ el }) => el.tabIndex === 0)) listed.forEach(({ el }, i) => (el.tabIndex = i === 0 ? 0 : -1));
    none.hidden = listed.length > 0 || choices.length === 0;
    frameMenu.update(reel(), store.get().current);
    text(sheet.heading, `${choices.length} looks on ${wide === 1 ? "your frame" : `${wide} frames`}`);
    pair.update(...sides());
    tell();
    gallery.work();
  }

  function tell() {
    const listed = [...cells.values()].filter(({ el }) => !el.hidden);
    const drawn = listed.filter((cell) => cell.canvases().every(gallery.isDone)).length;
    text(count, `${drawn} of ${listed.length} drawn`);
  }

  /** @param {Choice} choice */
  function onlook(choice) {
    if (looked?.id === choice.id) return;
    looked = choice;
    pair.update(...sides());
    gallery.work();
  }

  /** @param {Choice | null} choice */
  function seeLarge(choice) {
    large = choice;
    over.hidden = !choice;
    if (!choice) return;
    const small = cells.get(choice.id)?.canvases()[0];
    Object.assign(largeCanvas, { width: small?.width ?? 1, height: small?.height ?? 1 });
    if (small) largeCanvas.getContext("2d")?.drawImage(small, 0, 0);
    gallery.clear(largeCanvas);
    text(largeName, choice.name);
    gallery.work();
  }

  /** @param {Choice} choice */
  function take(choice) {
    sheet.close();
    if (choice.kind === "bench") return;
    edits.setLook(choice.look);
    notices.say(`\u201c${choice.name}\u201d is on.${choice.note ? ` ${choice.note}` : ""}`, { topic: "wall", fades: true, action: { label: "Undo", run: edits.undo } });
  }

  /** @param {KeyboardEvent} event */
  function onsearchkey(event) {
    if (event.key === "ArrowDown" || event.key === "Enter") {
      event.preventDefault();
      [...cells.values()].find(({ el }) => !el.hidden)?.el.focus();
    } else if (event.key === "Escape" && search.value !== "") {
      event.preventDefault();
      search.value = "";
      show();
    }
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || !(event.target instanceof HTMLElement)) return;
    const listed = [...cells.values()].filter(({ el }) => !el.hidden);
    const at = listed.findIndex(({ el }) => el === event.target);
    if (event.key === "/") search.focus();
    else if (at < 0) return;
    else if (event.key === "1" || event.key === "2") {
      const id = listed[at]?.choice().id ?? null;
      const place = Number(event.key) - 1;
      marks[place] = marks[place] === id ? null : id;
      show();
    } else {
      const next = listed[nextPlace(event.key, at, listed)];
      if (!next) return;
      for (const { el } of listed) el.tabIndex = el === next.el ? 0 : -1;
      next.el.focus();
      next.el.scrollIntoView({ block: "nearest" });
    }
    event.preventDefault();
  }

  return {
    close: sheet.close,
    async open() {
      sheet.open();
      gallery.open();
      // What was drawn the last time is none of this one's.
      text(count, "");
      marks = [null, null];
      try {
        const others = [...(await more()), ...(await libraryChoices(catalogue, client))];
        const found = benchChoice(catalogue, store.get().history.present.look, others);
        choices = found.bench ? [found.bench, ...others] : others;
        on = found.on;
        looked = null;
      } catch (error) {
        sheet.close();
        throw error;
      }
      show();
      cells.get(on)?.el.focus();
    },
  };
}

/**
 * Where an arrow leads, by where the cells stand.
 * @param {string} key
 * @param {number} at
 * @param {Cell[]} listed
 */
function nextPlace(key, at, listed) {
  const by = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: listed.length - 1 }[key];
  if (by !== undefined) return by;
  const way = { ArrowUp: -1, ArrowDown: 1 }[key];
  if (!way) return -1;
  const boxes = listed.map(({ el }) => el.getBoundingClientRect());
  const own = boxes[at];
  if (!own) return -1;
  const far = (/** @type {DOMRect} */ box) => Math.abs(box.top - own.top) * 10 + Math.abs(box.left - own.left);
  const ahead = boxes.map((box, i) => ({ i, box })).filter(({ box }) => (box.top - own.top) * way > own.height / 2);
  ahead.sort((a, b) => far(a.box) - far(b.box));
  return ahead[0]?.i ?? -1;
}
