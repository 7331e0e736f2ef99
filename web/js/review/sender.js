/** The sheet that sends looks to a client: one file, or one link. */

/** @import { Core, ReelFrame, ReviewFrame, State } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { LibraryEntry } from "../look/library.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Ledger } from "./ledger.js" */
/** @import { Made, Wish } from "./maker.js" */

import { Superseded, reasonOf } from "../bridge/bridge.js";
import { sizeSaid } from "../pure/health.js";
import { onReel } from "../pure/history.js";
import { fileStem } from "../save/download.js";
import { h } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { candidates } from "./candidates.js";
import { cardOf } from "./card.js";
import { encoded } from "./encode.js";
import { createForm } from "./form.js";
import { QR_MOST, homeAddress, lengthSaid, reviewHash } from "./link.js";
import { createMaker } from "./maker.js";
import { qrCanvas } from "./qr.js";
import { renderStages, sourceOf } from "./shots.js";
import { createShowcase } from "./showcase.js";
import { createSmall } from "./small.js";

/**
 * @typedef {object} ReviewDesk what the review needs of the page
 * @property {Core} core
 * @property {Bridge} errands
 * @property {Client} client
 * @property {Store} store
 * @property {Notices} notices
 * @property {Download} download
 * @property {(frame: ReelFrame) => Promise<Blob>} fileOf
 * @property {() => Bridge} reader
 * @property {() => Promise<{ id: string, name: string, look: import("../../types.js").LookData }[]>} ownLooks
 * @property {() => Promise<LibraryEntry[]>} library
 * @property {Ledger} ledger
 */

/** @param {ReviewDesk} desk */
export function createSender(desk) {
  const { core, reader, client, store, notices, download, fileOf, ownLooks, library, ledger } = desk;
  const small = createSmall(desk);
  const state = h("p", { class: "review-state", role: "status" });
  const strip = h("div", { class: "review-strip" });
  const save = h("button", { class: "pill pill-lit", type: "button", onclick: () => void send("save") }, "Save the review");
  const share = h("button", { class: "pill", type: "button", hidden: typeof navigator.canShare !== "function", onclick: () => void send("share") }, "Share it \u2026");
  const linkField = h("input", { class: "link-text", type: "text", readonly: true, "aria-label": "Link to this review", onfocus: () => linkField.select() });
  const linkSaid = h("p", { class: "quiet" });
  const code = h("div", { class: "review-code" });
  const copy = h("button", { class: "pill", type: "button", onclick: () => void copyLink() }, "Copy link");
  const card = h("button", { class: "pill", type: "button", onclick: () => void saveCard() }, "Save a card");
  const maker = createMaker({ core, reader, client, ontell: (words) => (state.textContent = words) });
  const form = createForm({ onchange: () => void refresh() });
  const showcase = createShowcase({ reader, notices, download, look: () => store.get().history.present.look, render: () => latest, stages });
  const sheet = createSheet({ title: "For a yes", kind: "review-sheet", onclose: () => maker.rest() });
  sheet.body.append(
    form.el,
    h(
      "div",
      { class: "review-out" },
      state,
      strip,
      h("div", { class: "save-actions" }, save, share),
      h("p", { class: "quiet" }, "One file that opens in any browser, without a network: your client sees the frames before and after, writes on them and says yes. The answer comes back as a file or a text; drop or paste it here."),
      h("h3", {}, "As a link"),
      h("p", { class: "quiet" }, "For copies of this page on a host. The link holds the looks; demo frames come from there, other pictures are opened by whoever gets it."),
      linkField,
      linkSaid,
      code,
      h("div", { class: "save-actions" }, copy, card),
      showcase.el,
    ),
  );
  /** @type {Promise<Made> | null} */
  let making = null;
  /** @type {Made | null} */
  let latest = null;
  const made = () => new Date(Math.floor(Date.now() / 1000) * 1000);

  /** @returns {ReelFrame[]} */
  function chosenFrames() {
    const { reel } = store.get();
    return form.frames().flatMap((id) => reel.find((frame) => frame.id === id) ?? []);
  }

  /** @returns {Promise<Wish>} */
  async function wish() {
    const { history, view } = store.get();
    const frames = chosenFrames();
    if (frames.length === 0) throw new Error("Choose a frame at least.");
    const sources = frames.map((frame) => sourceOf(frame, history.present.frames[frame.id] ?? {}, fileOf));
    return { sources, looks: await form.looks(), words: form.words(), ...form.pictures(), middle: view.scale === "fit" ? { x: 0.5, y: 0.5 } : view.centre };
  }

  /** @param {number} side */
  async function stages(side) {
    const { catalogue, history } = store.get();
    const [source] = (await wish()).sources;
    if (!source || !catalogue) return [];
    const shown = await renderStages({ core, source, look: history.present.look, stages: catalogue.stages.map(({ id }) => id), side });
    return shown.map((it, i) => ({ shown: it, label: catalogue.stages[i]?.label ?? "" }));
  }

  async function refresh() {
    latest = null;
    save.disabled = share.disabled = false;
    const now = (making = wish().then((it) => maker.make(it, { made: made(), home: homeAddress() })));
    try {
      const [result] = await Promise.all([now, showLink()]);
      if (making !== now) return;
      latest = result;
      const { shots, pictures, review, blob } = result;
      const kind = pictures.files[0]?.type === "image/webp" ? "WebP" : "JPEG";
      state.textContent = `${sizeSaid(blob.size)}: ${counted(review.frames.length, "frame")}, ${counted(review.versions.length, "version")}, ${kind} at quality ${pictures.quality}.`;
      strip.replaceChildren(...shots.flatMap(({ crop, frame, kind: which, shown }) => (crop ? [] : [pictureOf(shown, `${review.frames[frame]?.name}, ${which === "before" ? "before" : which}`)])));
      showcase.update();
    } catch (error) {
      if (making !== now || error instanceof Superseded) return;
      state.textContent = reasonOf(error);
      save.disabled = share.disabled = true;
    }
  }

  /** @param {import("../../types.js").Shown} shown @param {string} words */
  function pictureOf(shown, words) {
    const canvas = h("canvas", { width: shown.width, height: shown.height, role: "img", "aria-label": words });
    canvas.getContext("2d")?.putImageData(new ImageData(shown.pixels, shown.width, shown.height), 0, 0);
    return h("figure", {}, canvas, h("figcaption", {}, words));
  }

  async function linkData() {
    const asked = await wish();
    const { origin, pathname } = location;
    const base = new URL(pathname, origin).pathname;
    const frames = chosenFrames().map((/** @returns {ReviewFrame} */ ({ name, url }, i) => ({ name, settings: asked.sources[i]?.settings ?? {}, ...(url?.startsWith(base) ? { url: decodeURI(url.slice(base.length)) } : {}) })));
    return maker.data(asked, { made: made(), home: homeAddress(), frames });
  }

  async function showLink() {
    const review = await linkData();
    const link = new URL(reviewHash(review), location.href).href;
    linkField.value = link;
    linkSaid.textContent = lengthSaid(link.length);
    code.replaceChildren(...(link.length <= QR_MOST ? [qrCanvas(link)] : [h("p", { class: "quiet" }, "Too long for a QR code that a phone reads; one version and short words make it shorter.")]));
    code.firstElementChild?.setAttribute("role", "img");
    code.firstElementChild?.setAttribute("aria-label", "QR code of the link");
  }

  /** @param {"save" | "share"} way */
  async function send(way) {
    try {
      if (!making) return;
      const { review, blob } = await making;
      await ledger.putSent(review);
      const name = `${fileStem(review.title)}.review.html`;
      if (way === "save") download(name, blob, "text/html", `${sizeSaid(blob.size)}. Send it to ${review.to || "your client"}.`);
      else await navigator.share({ title: review.title, files: [new File([blob], name, { type: "text/html" })] });
    } catch (error) {
      if (!(error instanceof Superseded || (error instanceof DOMException && error.name === "AbortError"))) notices.problem(error);
    }
  }

  async function copyLink() {
    try {
      await ledger.putSent(await linkData());
      await navigator.clipboard.writeText(linkField.value);
      notices.say("The link to the review is copied.");
    } catch (error) {
      notices.problem(error);
    }
  }

  /** A picture to send along: links have no preview without a server. */
  async function saveCard() {
    try {
      if (!making) return;
      const { review, shots } = await making;
      const shot = shots.find(({ kind, crop }) => kind !== "before" && !crop);
      if (!shot) return;
      const qr = linkField.value.length <= QR_MOST ? qrCanvas(linkField.value) : null;
      const file = await encoded(cardOf({ shown: shot.shown, title: review.title, line: [...new Set([review.versions[0]?.name, review.from])].filter((it) => it && it !== review.title).join(" \u00b7 "), qr }), "jpeg", 90, reader);
      download(`${fileStem(review.title)} - card.jpg`, file, "image/jpeg");
    } catch (error) {
      if (!(error instanceof Superseded)) notices.problem(error);
    }
  }

  return {
    sheet,
    async open() {
      const now = /** @type {State} */ (store.get());
      const looks = candidates({ store, client, library: await library().catch(() => []), own: await ownLooks().catch(() => []) });
      form.fill({ looks, frames: onReel(now.reel, now.history.present), current: now.current, small });
      form.propose(now.history.present.look.name || "Untitled look");
      sheet.open();
      await refresh();
    },
  };
}

/** @param {number} n @param {string} what */
const counted = (n, what) => (n === 1 ? `1 ${what}` : `${n} ${what}s`);
