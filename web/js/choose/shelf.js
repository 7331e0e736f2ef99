/** One's own looks: kept, named, put in order, noted, thrown away and brought back, to files and from them. */

/** @import { Catalogue, LookData } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { OwnLook } from "../kept/database.js" */
/** @import { Looks } from "../kept/looks.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { reasonOf } from "../bridge/bridge.js";
import { readIncoming } from "../look/incoming.js";
import { renderSettings } from "../picture/render-settings.js";
import { NAME_MOST, NOTE_MOST, shortened } from "../pure/kept/limits.js";
import { hasColour, originOf, whatFor } from "../pure/looks/choices.js";
import { changesSaid } from "../pure/looks/difference.js";
import { apart, together } from "../pure/looks/licence.js";
import { added, fileNames, lookFileName, moved, renamed } from "../pure/looks/shelf.js";
import { h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { folderTarget, hasFolders, zipped } from "./batch/target.js";
import { createGallery } from "./gallery.js";

/** Said where a browser keeps nothing. */
const NOWHERE = "This browser keeps nothing for this page, so looks can only be saved as files.";

/**
 * @param {{ catalogue: Catalogue, store: Store, edits: Edits, client: Client, renderers: Renderers, download: Download, looks: Looks | null,
 *   library: () => Promise<Choice[]> }} wiring
 */
export function createLookShelf({ catalogue, store, edits, client, renderers, download, looks, library }) {
  /** @type {OwnLook[]} */
  let own = [];
  let last = Promise.resolve();
  /** Rows by id: they stay, so that what is being typed does. @type {Map<string, ReturnType<typeof createRow>>} */
  const rows = new Map();
  const gallery = createGallery({ renderers, wanted, onchange: () => {} });
  const keep = h("button", { class: "pill pill-lit", type: "button", onclick: () => act(keepNow) }, "Keep the look that is on");
  const picker = h("input", { type: "file", hidden: true, multiple: true, accept: ".json,.zip", "aria-label": "Look files", onchange: () => act(async () => void (await takeIn([...(picker.files ?? [])]))) });
  const folderPicker = h("input", { type: "file", hidden: true, webkitdirectory: true, "aria-label": "A folder of look files", onchange: () => act(async () => void (await takeIn(looksOf([...(folderPicker.files ?? [])])))) });
  const from = h("button", { class: "pill", type: "button", onclick: () => picker.click() }, "From files");
  const fromFolder = h("button", { class: "pill", type: "button", hidden: !("webkitdirectory" in folderPicker) || matchMedia("(pointer: coarse)").matches, onclick: () => folderPicker.click() }, "From a folder");
  const all = h("button", { class: "pill", type: "button", onclick: () => act(saveAll) }, "Save all as a zip");
  const allToFolder = h("button", { class: "pill", type: "button", hidden: !hasFolders(), onclick: () => act(saveIntoFolder) }, "Save all into a folder");
  const sheet = createSheet({ title: "Your looks", kind: "wall look-shelf", tools: [keep, from, fromFolder, all, allToFolder, picker, folderPicker], onclose: () => sheet.isOpen() || gallery.close() });
  const list = h("ol", { class: "shelf-list" });
  const none = h("p", { class: "quiet wall-none" }, "None yet. Keep the look that is on, or bring look files.");
  const said = h("p", { role: "status" });
  const undo = h("button", { class: "small", type: "button", hidden: true }, "Undo");
  sheet.body.append(list, none);
  sheet.el.append(h("div", { class: "wall-foot" }, said, undo));
  looks?.onchange(() => sheet.isOpen() && void read());

  /** @param {string} words @param {(() => Promise<void>)} [back] */
  function say(words, back) {
    text(said, words);
    undo.hidden = !back;
    undo.onclick = back ? () => act(back) : null;
  }

  /** One after the other: what is pressed next finds what was done before. @param {() => Promise<void>} work */
  const act = (work) => (last = last.then(() => done(work)));

  /** @param {() => Promise<void>} work */
  async function done(work) {
    try {
      if (!looks) throw new Error(NOWHERE);
      await work();
    } catch (error) {
      say(reasonOf(error));
    }
    await read();
  }

  async function read() {
    own = (await looks?.list()) ?? [];
    show();
  }

  /** @param {LookData} look */
  async function originSaid(look) {
    const others = [...own.map(choiceOf), ...(await library())];
    const origin = originOf(catalogue, look, others);
    if (!origin || origin.changes > 40) return { ancestors: [], more: {} };
    const before = own.find(({ id }) => `own-${id}` === origin.choice.id)?.ancestors ?? [];
    return { ancestors: [origin.choice.id, ...before], more: { from: origin.choice.name, changes: origin.changes } };
  }

  /** @param {LookData} look @param {string} name */
  async function put(look, name) {
    const { fingerprint } = await client.readLook(JSON.stringify(look));
    const { ancestors, more } = await originSaid(look);
    await looks?.put(added(own, { id: crypto.randomUUID(), look, name: shortened(name, NAME_MOST), now: Date.now(), ancestors, more: { ...more, fingerprint } }));
    own = (await looks?.list()) ?? [];
  }

  async function keepNow() {
    const { look } = store.get().history.present;
    await put(look, look.name ?? "Untitled look");
    say(`\u201c${look.name ?? "Untitled look"}\u201d is kept.`);
  }

  /** @param {File[]} files looks, or zips of looks @returns {Promise<{ count: number, problems: string[] }>} */
  async function takeIn(files) {
    picker.value = folderPicker.value = "";
    /** @type {string[]} */
    const problems = [];
    let count = 0;
    for (const file of files) {
      for (const { name, content } of await textsOf(file, problems)) {
        try {
          const { look } = await readIncoming(content, client);
          await put(look, look.name ?? name.replace(/(\.look)?\.json$/i, ""));
          count += 1;
        } catch (error) {
          problems.push(`${name}: ${reasonOf(error)}`);
        }
      }
    }
    say([`${counted(count)} ${count === 1 ? "is" : "are"} kept.`, ...problems].join(" "));
    return { count, problems };
  }

  /** One's own looks as files. @returns {Promise<{ name: string, file: Blob }[]>} */
  function ownFiles() {
    const names = fileNames(own);
    return Promise.all(own.map(async ({ look }, i) => ({ name: names[i] ?? "look.json", file: new Blob([(await client.readLook(JSON.stringify(look))).pretty]) })));
  }

  async function saveAll() {
    download("looks.zip", await zipped(await ownFiles()), "application/zip");
    say(`${counted(own.length)} went into looks.zip.`);
  }

  async function saveIntoFolder() {
    const folder = await folderTarget();
    if (!folder) return;
    for (const { name, file } of await ownFiles()) await folder.write(name, file);
    say(`${counted(own.length)} went into ${folder.words}.`);
  }

  /** @param {OwnLook} look */
  function createRow(look) {
    let now = look;
    const canvas = h("canvas", { class: "look-canvas", width: 1, height: 1 });
    const picture = h("span", { class: "shelf-picture" }, canvas);
    const save = () => act(async () => looks?.put(renamed(now, { name: shortened(name.value.trim() || "Untitled look", NAME_MOST), note: shortened(together({ note: note.value.trim(), licence: licence.value }), NOTE_MOST) }, Date.now())));
    const name = h("input", { class: "batch-pattern", type: "text", "aria-label": "Name", autocomplete: "off", onchange: save });
    const note = h("input", { class: "batch-pattern", type: "text", "aria-label": "Note", placeholder: "What it is for", autocomplete: "off", onchange: save });
    const licence = h("input", { class: "batch-pattern", type: "text", "aria-label": "Licence", placeholder: "Licence, for whoever gets it", autocomplete: "off", onchange: save });
    const words = h("p", { class: "quiet" });
    const button = (/** @type {string} */ label, /** @type {() => void} */ onclick) => h("button", { class: "small", type: "button", onclick }, label);
    const up = button("Up", () => act(async () => looks?.put(...moved(own, now.id, -1))));
    const down = button("Down", () => act(async () => looks?.put(...moved(own, now.id, 1))));
    const el = h(
      "li",
      { class: "shelf-row" },
      picture,
      h("div", { class: "shelf-words" }, name, note, licence, words),
      h(
        "div",
        { class: "shelf-acts" },
        button("Take", () => (sheet.close(), edits.setLook(now.look))),
        button("Duplicate", () => act(() => put(now.look, `${now.name}, again`))),
        up,
        down,
        button("Save as a file", () => act(async () => download(fileNames([now])[0] ?? "look.json", (await client.readLook(JSON.stringify(now.look))).pretty, "application/json"))),
        button("Delete", () =>
          act(async () => {
            const gone = await looks?.remove(now.id);
            say(`\u201c${now.name}\u201d is deleted.`, async () => {
              if (gone) await looks?.put(gone);
              say(`\u201c${now.name}\u201d is back.`);
            });
          }),
        ),
      ),
    );
    return {
      el,
      canvas,
      room: () => ({ width: picture.clientWidth, height: picture.clientHeight }),
      look: () => now.look,
      /** @param {OwnLook} next @param {boolean} first @param {boolean} last */
      update(next, first, last) {
        now = next;
        if (document.activeElement !== name) name.value = next.name;
        const said = apart(next.note);
        if (document.activeElement !== note) note.value = said.note;
        if (document.activeElement !== licence) licence.value = said.licence;
        const { from: origin, changes, fingerprint } = /** @type {{ from?: string, changes?: number, fingerprint?: string }} */ (next.more ?? {});
        const made = origin && changes ? `from ${origin}, ${changesSaid(changes)}` : origin ? `as ${origin}` : "";
        text(words, [made, `kept ${new Date(next.made).toLocaleDateString()}`, fingerprint ? `fingerprint ${fingerprint.slice(0, 8)}` : ""].filter(Boolean).join(" \u00b7 "));
        up.disabled = first;
        down.disabled = last;
      },
    };
  }

  function show() {
    for (const [id, row] of rows) {
      if (own.some((look) => look.id === id)) continue;
      row.el.remove();
      rows.delete(id);
    }
    own.forEach((look, i) => {
      const row = rows.get(look.id) ?? createRow(look);
      rows.set(look.id, row);
      row.update(look, i === 0, i === own.length - 1);
      if (list.children[i] !== row.el) list.insertBefore(row.el, list.children[i] ?? null);
    });
    none.hidden = own.length > 0;
    all.disabled = allToFolder.disabled = own.length === 0;
    gallery.work();
  }

  /** @returns {Wish[]} */
  function wanted() {
    const { reel, current, history } = store.get();
    const frame = reel.find(({ id }) => id === current);
    if (!frame?.info) return [];
    return [...rows].flatMap(([id, row]) => gallery.wish(row.canvas, id, frame, row.room(), renderSettings({ ...history.present, look: row.look() }, frame.id)));
  }

  /** @param {OwnLook} look @returns {Choice} */
  function choiceOf({ id, name, note, look }) {
    return { id: `own-${id}`, kind: "own", name, what: whatFor(apart(note).note) || "yours", note, look, colour: hasColour(catalogue, look) };
  }

  async function open() {
    sheet.open();
    gallery.open();
    say(looks ? "" : NOWHERE);
    keep.disabled = from.disabled = fromFolder.disabled = !looks;
    await read();
  }

  return {
    choices: async () => ((await looks?.list()) ?? []).map(choiceOf),
    open,
    /** Keeps every look of a zip, and shows them. @param {File} zip rejects with one sentence if there is none */
    async keepAll(zip) {
      if (!looks) throw new Error(NOWHERE);
      own = await looks.list();
      const { count, problems } = await takeIn([zip]);
      if (count === 0) throw new Error(problems[0] ?? "it holds neither a session nor looks");
      await open();
      say([`${counted(count)} of ${zip.name} ${count === 1 ? "is" : "are"} kept.`, ...problems].join(" "));
    },
    /** Keeps the look that is on, without the sheet. */
    async keepNow() {
      if (!looks) throw new Error(NOWHERE);
      own = await looks.list();
      await keepNow();
    },
  };
}

/** @param {number} count */
const counted = (count) => (count === 1 ? "1 look" : `${count} looks`);

/** What of a folder may hold looks. @param {File[]} files */
const looksOf = (files) => files.filter(({ name, webkitRelativePath }) => lookFileName(webkitRelativePath || name) !== null || /\.zip$/i.test(name));

/**
 * The looks in a file.
 * @param {File} file
 * @param {string[]} problems added to
 * @returns {Promise<{ name: string, content: string }[]>}
 */
async function textsOf(file, problems) {
  const isZip = /\.zip$/i.test(file.name);
  if (file.size > (isZip ? ZIP_MOST : MOST)) {
    problems.push(`${file.name} is larger than ${isZip ? "64 MB" : "1 MB"}, too large for ${isZip ? "a zip of looks" : "a look"}.`);
    return [];
  }
  if (!isZip) return [{ name: file.name, content: await file.text() }];
  try {
    const { unzipSync, strFromU8 } = await import("fflate");
    let room = ZIP_MOST;
    const isLook = (/** @type {{ name: string, originalSize: number }} */ { name, originalSize }) => lookFileName(name) !== null && originalSize < MOST && (room -= originalSize) >= 0;
    const found = Object.entries(unzipSync(new Uint8Array(await file.arrayBuffer()), { filter: isLook }));
    if (room < 0) problems.push(`${file.name} holds more than 64 MB of looks; not all of them are taken.`);
    else if (found.length === 0) problems.push(`${file.name} holds no looks.`);
    return found.map(([name, bytes]) => ({ name: lookFileName(name) ?? name, content: strFromU8(bytes) }));
  } catch {
    problems.push(`${file.name} is damaged, or no zip.`);
    return [];
  }
}

/** The largest file that may be a look, and the largest zip of looks, packed and unpacked, in bytes. */
const MOST = 1 << 20;
const ZIP_MOST = 64 << 20;