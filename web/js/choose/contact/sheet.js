/** Contact sheets: the reel through the look, or one frame through many looks, with names; as a picture or a PDF. */

/** @import { Catalogue, ReelFrame, RenderSettings, Shown } from "../../../types.js" */
/** @import { Bridge } from "../../bridge/bridge.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Cell, Layout, Paper } from "../../pure/contact/layout.js" */
/** @import { Choice } from "../../pure/looks/choices.js" */
/** @import { Download } from "../../save/download.js" */
/** @import { Store } from "../../session/store.js" */
/** @import { Renderers, Wish } from "../renderers.js" */
/** @import { Sizes } from "../sizes.js" */
/** @import { Ground, Words } from "./draw.js" */

import { reasonOf } from "../../bridge/bridge.js";
import { onScreen, renderSettings } from "../../picture/render-settings.js";
import { contactLayout } from "../../pure/contact/layout.js";
import { dayOf } from "../../pure/day.js";
import { onReel } from "../../pure/history.js";
import { fileStem } from "../../save/download.js";
import { h, text } from "../../ui/dom.js";
import { replaceRows } from "../../ui/rows.js";
import { createSheet } from "../../ui/sheet.js";
import { benchChoice } from "../looks.js";
import { GROUNDS, drawCell, drawPage, pixelsOf } from "./draw.js";

/** What a sheet can show. */
const KINDS = /** @type {const} */ ({ reel: "The reel through the look", looks: "This frame through looks" });
const SAVED_AS = /** @type {const} */ ([["pdf a4", "PDF, A4 upright"], ["pdf a4 sideways", "PDF, A4 sideways"], ["pdf letter", "PDF, US Letter upright"], ["pdf letter sideways", "PDF, US Letter sideways"], ["jpeg", "Picture, JPEG"], ["png8", "Picture, PNG"]]);
const WIDTHS = [240, 320, 480, 640, 960];
/** Quality of the JPEGs in a PDF. */
const PDF_QUALITY = 95;
/** Most pixels of a picture, and on one side: what browsers give a canvas. */
const MOST = 50_000_000;
const SIDE_MOST = 16_000;
/** Most pixels of all pages together: each takes four bytes for as long as the sheet is open. */
const ALL_MOST = 100_000_000;
/** What a frame is taken for until its size is known. */
const LIKELY = { width: 3000, height: 2000 };

/** One cell of a sheet. @typedef {{ id: string, frame: ReelFrame, settings: RenderSettings, caption: string[] }} Item */

/**
 * @param {{ catalogue: Catalogue, store: Store, client: Client, renderers: Renderers, reader: () => Bridge, sizes: Sizes, download: Download, choices: () => Promise<Choice[]> }} wiring
 *   choices: all looks but the one that is on
 */
export function createContact({ catalogue, store, client, renderers, reader, sizes, download, choices }) {
  /** @type {Choice[]} */
  let looks = [];
  /** What is not to be on the sheet, by its kind and id. @type {Set<string>} */
  const left = new Set();
  let fingerprint = "";
  /** @type {{ items: Item[], layout: Layout, words: Words, ground: Ground, canvases: HTMLCanvasElement[] } | null} */
  let made = null;
  /** What is drawn, or null for what could not be, by its key. @type {Map<string, Shown | null>} */
  const drawn = new Map();
  let problem = "";
  /** Which frames are left out, because they can't be read. */
  let notRead = "";
  /** What was handed over. */
  let handed = "";
  let saving = false;
  /** Whether frames are still being looked at for their sizes. */
  let looking = () => false;
  /** @type {ReturnType<Renderers["use"]> | null} */
  let use = null;

  const kind = menu("Shows", Object.entries(KINDS), "reel");
  const saved = menu("Save as", SAVED_AS, "pdf a4");
  const columns = menu("In a row", Array.from({ length: 8 }, (_, i) => [String(i + 1), String(i + 1)]), "4");
  const width = menu("Width of a frame", WIDTHS.map((pixels) => [String(pixels), `${pixels} px`]), "480");
  const ground = menu("On", Object.keys(GROUNDS).map((name) => [name, name.toLowerCase()]), "White");
  const list = h("ul", { class: "batch-rows contact-list" });
  const all = h("button", { class: "small", type: "button", onclick: () => pick(true) }, "All");
  const none = h("button", { class: "small", type: "button", onclick: () => pick(false) }, "None");
  const pages = h("div", { class: "contact-pages", tabindex: 0, role: "group", "aria-label": "The sheet" });
  const said = h("p", { role: "status" });
  const save = h("button", { class: "pill pill-lit", type: "button", onclick: onsave }, "Save the sheet");
  const sheet = createSheet({
    title: "Contact sheet",
    kind: "batch contact",
    onclose() {
      if (sheet.isOpen()) return;
      use?.close();
      use = null;
      made = null;
      drawn.clear();
      pages.replaceChildren();
    },
  });
  sheet.body.append(
    h("div", { class: "batch-options" }, ...[kind, saved, columns, width, ground].map((el) => h("div", { class: "batch-row" }, h("span", { "aria-hidden": "true" }, el.ariaLabel ?? ""), el)), h("div", { class: "batch-row" }, h("span", {}, "With"), h("span", { class: "shelf-acts" }, all, none)), list),
    pages,
  );
  sheet.el.append(h("div", { class: "wall-foot" }, said, h("div", { class: "wall-tools" }, save)));

  /** @param {string} label @param {readonly (readonly string[])[]} options @param {string} value */
  function menu(label, options, value) {
    const el = h("select", { class: "slot-menu", "aria-label": label, onchange: show }, ...options.map(([id = "", words = ""]) => h("option", { value: id, selected: id === value }, words)));
    return el;
  }

  const present = () => store.get().history.present;
  const reel = () => onReel(store.get().reel, present()).filter(({ stage }) => stage !== "failed");
  const current = () => reel().find(({ id }) => id === store.get().current);
  const isReel = () => kind.value === "reel";

  /** All that could be on the sheet. @returns {Item[]} */
  function items() {
    const doc = onScreen(present(), "srgb");
    if (isReel()) return reel().map((frame) => ({ id: `frame ${frame.id}`, frame, settings: renderSettings(doc, frame.id), caption: [frame.clip ? `${frame.name}, frame ${frame.clip.number + 1}` : frame.name] }));
    const frame = current();
    if (!frame) return [];
    const { bench } = benchChoice(catalogue, doc.look, looks);
    return [...(bench ? [bench] : []), ...looks].map(({ id, name, what, letter, look }) => ({ id: `look ${id}`, frame, settings: renderSettings({ ...doc, look }, frame.id), caption: [letter ? `${letter}  ${name}` : name, what] }));
  }

  /** @returns {Paper} */
  function paper() {
    const [as, kindOf, sideways] = saved.value.split(" ");
    return as === "pdf" ? { kind: kindOf === "letter" ? "letter" : "a4", sideways: sideways !== undefined } : { kind: "picture", cell: Number(width.value) };
  }

  /** @param {boolean} whether all or none */
  function pick(whether) {
    for (const { id } of items()) whether ? left.delete(id) : left.add(id);
    show();
  }

  /** @param {Item[]} chosen @returns {Words} */
  function wordsOf(chosen) {
    const name = present().look.name ?? "Untitled look";
    const count = isReel() ? (chosen.length === 1 ? "1 frame" : `${chosen.length} frames`) : chosen.length === 1 ? "1 look" : `${chosen.length} looks`;
    return {
      title: isReel() ? name : (current()?.name ?? ""),
      under: isReel() ? [count, present().look.note].filter(Boolean).join(" \u00b7 ") : count,
      foot: ["Lookwright", dayOf(new Date()), isReel() && fingerprint ? `fingerprint ${fingerprint.slice(0, 8)}` : ""].filter(Boolean).join(" \u00b7 "),
      captions: chosen.map(({ caption }) => caption),
    };
  }

  function show() {
    const possible = items();
    const wished = possible.filter(({ id }) => !left.has(id));
    const unread = wished.filter(({ frame }) => sizes.unreadable(frame) || (!looking() && !sizes.of(frame)));
    const chosen = wished.filter((item) => !unread.includes(item));
    replaceRows(
      list,
      possible.map(({ id, caption: [name = ""] }) => {
        const box = h("input", { type: "checkbox", checked: !left.has(id), "aria-label": name, onchange: () => (box.checked ? left.delete(id) : left.add(id), show()) });
        return h("li", {}, box, h("span", { class: "batch-name" }, name));
      }),
    );
    const on = paper();
    width.disabled = on.kind !== "picture";
    made = null;
    problem = handed = "";
    notRead = unread.length === 0 ? "" : ` ${unread.map(({ frame }) => frame.name).join(", ")} can\u2019t be read, and ${unread.length === 1 ? "is" : "are"} left out.`;
    pages.replaceChildren();
    if (chosen.length > 0) lay(chosen, on);
    const keys = new Set(cells().map(({ key }) => key));
    for (const key of drawn.keys()) if (!keys.has(key)) drawn.delete(key);
    tell();
    use?.work();
  }

  /** @param {Item[]} chosen @param {Paper} on */
  function lay(chosen, on) {
    const lines = Math.max(...chosen.map(({ caption }) => caption.length));
    const layout = contactLayout(chosen.map(({ frame }) => sizes.of(frame) ?? LIKELY), { paper: on, columns: Math.min(Number(columns.value), chosen.length), lines });
    const [{ width: wide, height: high } = { width: 0, height: 0 }] = layout.pages;
    if (wide * high > MOST || Math.max(wide, high) > SIDE_MOST) {
      problem = `That would be ${wide} \u00d7 ${high} pixels, more than browsers can draw; take smaller frames, or a PDF.`;
      return;
    }
    if (wide * high * layout.pages.length > ALL_MOST) {
      problem = `That would be ${layout.pages.length} pages, more than a browser can hold at once; put more in a row, or leave some out.`;
      return;
    }
    const words = wordsOf(chosen);
    const colours = GROUNDS[/** @type {keyof typeof GROUNDS} */ (ground.value)];
    const canvases = layout.pages.map((page, number) => {
      const canvas = h("canvas", { class: "contact-page", role: "img", "aria-label": `Page ${number + 1}: ${page.cells.map(({ index }) => words.captions[index]?.[0]).join(", ")}` });
      drawPage(canvas, { layout, page, words, ground: colours, first: number === 0 });
      return canvas;
    });
    made = { items: chosen, layout, words, ground: colours, canvases };
    pages.replaceChildren(...canvases);
    for (const { page, cell, key } of cells()) {
      const shown = drawn.get(key);
      if (shown !== undefined) paint(page, cell, shown);
    }
  }

  /** @param {number} page @param {Cell} cell @param {Shown | null} shown */
  function paint(page, cell, shown) {
    const canvas = made?.canvases[page];
    if (made && canvas) drawCell(canvas, cell, shown, made.ground);
  }

  /** Every cell of the sheet, with the key of what it shows. */
  function cells() {
    if (!made) return [];
    const { items: all, layout } = made;
    return layout.pages.flatMap(({ cells: own }, page) =>
      own.flatMap((cell) => {
        const item = all[cell.index];
        if (!item) return [];
        const { frame, settings } = item;
        const { width: wide, height: high } = cell.picture;
        return [{ page, cell, item, key: [frame.id, frame.clip?.number, wide, high, settings.look, settings.frame, settings.delivery].join("\n") }];
      }),
    );
  }

  /** @returns {Wish[]} */
  function wanted() {
    return cells().flatMap(({ cell, item: { frame, settings }, key }) => {
      if (drawn.has(key) || !sizes.of(frame)) return [];
      /** @param {Shown | null} shown */
      const take = (shown) => {
        drawn.set(key, shown);
        // The sheet may be laid out anew by now.
        for (const it of cells().filter((other) => other.key === key)) paint(it.page, it.cell, shown);
        tell();
      };
      /** @type {Wish} */
      const wish = {
        key,
        frame,
        box: { width: cell.picture.width, height: cell.picture.height },
        settings,
        stage: "screen",
        take,
        fail(reason) {
          problem = `${frame.name} could not be drawn: ${reason}`;
          take(null);
        },
      };
      return [wish];
    });
  }

  function tell() {
    const all = cells();
    const done = all.filter(({ key }) => drawn.has(key)).length;
    save.disabled = saving || all.length === 0 || done < all.length;
    const [page] = made?.layout.pages ?? [];
    const count = made && made.layout.pages.length > 1 ? `${made.layout.pages.length} pages` : page && paper().kind === "picture" ? `${page.width} \u00d7 ${page.height} pixels` : "1 page";
    const state = all.length === 0 ? "Nothing is chosen." : done < all.length ? `${done} of ${all.length} drawn.` : saving ? "The sheet is being saved \u2026" : `${all.length} drawn, ${count}.`;
    text(said, `${problem || handed || state}${notRead}`);
  }

  async function onsave() {
    if (!made || saving) return;
    saving = true;
    problem = handed = "";
    tell();
    try {
      const name = await write(made);
      handed = `${name} was handed to this browser, to be saved with its downloads.`;
    } catch (error) {
      problem = `The sheet was not saved: ${reasonOf(error)}`;
    }
    saving = false;
    tell();
  }

  /** @param {NonNullable<typeof made>} of @returns {Promise<string>} the file's name */
  async function write({ layout, words, ground: colours, canvases }) {
    const stem = `${fileStem(words.title)} - ${isReel() ? "contact sheet" : "looks"}`;
    const format = catalogue.handOver.pictures.find(({ id }) => id === saved.value);
    // All as it is now: the sheet may be laid out anew, or closed, while it is written.
    const pictures = format ? [] : cells().map(({ cell, key }) => ({ index: cell.index, shown: drawn.get(key) ?? null }));
    const [canvas] = canvases;
    if (format && canvas) {
      const name = `${stem}.${format.extension}`;
      const bytes = await reader().ask("encodePicture", { pixels: pixelsOf(canvas), width: canvas.width, format: format.id, quality: catalogue.handOver.quality });
      download(name, bytes, format.media);
      return name;
    }
    /** @type {(Uint8Array | null)[]} */
    const jpegs = [];
    for (const { index, shown } of pictures) jpegs[index] = shown && (await reader().ask("encodePicture", { pixels: shown.pixels, width: shown.width, format: "jpeg", quality: PDF_QUALITY }));
    const { contactPdf } = await import("./pdf.js");
    download(`${stem}.pdf`, await contactPdf({ layout, words, ground: colours, jpegs }), "application/pdf");
    return `${stem}.pdf`;
  }

  return {
    /** Whether a sheet is being saved. */
    busy: () => saving,

    /** @param {keyof typeof KINDS} [shows] */
    async open(shows) {
      if (shows) kind.value = shows;
      [looks, { fingerprint }] = await Promise.all([choices(), client.readLook(JSON.stringify(present().look))]);
      use ??= renderers.use(() => (use ? wanted() : []));
      looking = sizes.watch(reel(), sheet.isOpen, show);
      sheet.open();
      show();
    },
  };
}
