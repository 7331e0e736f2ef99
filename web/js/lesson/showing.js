/** Demonstrations: two or three pictures of the frame beside each other, each with a change of its own. */

/** @import { CoursePage, Doc, NumberControl, Place, ReelFrame, Shown } from "../../types.js" */
/** @import { Wish } from "../choose/renderers.js" */
/** @import { Change } from "./demonstrations.js" */
/** @import { Wiring } from "./lesson.js" */

import { createGallery } from "../choose/gallery.js";
import { renderSettings } from "../picture/render-settings.js";
import { findStage, findStep, isOn, stageSettings, stepSettings, valueOf, withValue } from "../pure/settings.js";
import { attribute, h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { pageOf, withPage, withoutPage } from "./address.js";
import { docOf, frameOf, missingWords } from "./course.js";
import { ADDED, DEMONSTRATIONS } from "./demonstrations.js";
import { createPages } from "./pages.js";

/** How many times larger a picture is of which a part is shown. */
const CLOSE = 3;

/** @param {Omit<Wiring, "client">} wiring */
export function createShowing({ catalogue, store, renderers }) {
  let at = 0;
  /** Of a teacher's lesson. @type {CoursePage | null} */
  let page = null;
  /** @type {HTMLCanvasElement[]} */
  let canvases = [];
  const title = h("h3", { class: "lesson-title", tabindex: -1 });
  const note = h("p", { class: "lesson-note" });
  const words = h("p", {});
  const see = h("p", { class: "lesson-shown" });
  const sides = h("div", { class: "showing-sides" });
  const axis = (/** @type {string} */ name) => h("input", { type: "range", min: 0, max: 100, value: 50, "aria-label": `Which part is shown, ${name}`, oninput: part });
  const [across, down] = [axis("across"), axis("down")];
  const where = h("div", { class: "lesson-row showing-part" }, h("span", {}, "Which part"), across, down);
  const problem = h("p", { class: "quiet", role: "status" });
  const pages = createPages({ titles: () => page?.titles ?? DEMONSTRATIONS.map((it) => it.title), go: (to) => (page ? page.go(to) : go(to)) });
  const gallery = createGallery({ renderers, wanted, onchange: tell });
  const wide = h("button", { class: "pill", type: "button", onclick: () => void (document.fullscreenElement ? document.exitFullscreen() : sheet.el.requestFullscreen()) }, "Full screen");
  const sheet = createSheet({ title: "Demonstrations", kind: "lesson showing", tools: document.fullscreenEnabled ? [wide] : [], onclose });
  sheet.body.append(h("div", { class: "lesson-head" }, title), h("div", {}, note, words), sides, where, problem, see);
  sheet.el.append(pages.el);
  sheet.el.addEventListener("keydown", (event) => {
    if (pages.key(event)) title.focus();
  });
  new ResizeObserver(() => gallery.work()).observe(sides);

  // A frame may still be opened when an address asks for a demonstration.
  store.subscribe(() => {
    if (sheet.isOpen()) update();
  });

  /** @param {number} i */
  const sideId = (i) => `side-${at}-${i}`;
  const shown = () => /** @type {import("./demonstrations.js").Demonstration} */ (DEMONSTRATIONS[at]);
  /** @returns {ReelFrame | null} */
  const frame = () => frameOf(store.get(), page?.item);
  /** Whose settings are changed. */
  const whose = () => frame()?.id ?? store.get().current;

  /** What acts at a place, with what is added to it, within its range. @param {Doc} doc @param {Place} place @param {number} by */
  function more(doc, place, by) {
    const entry = findStep(findStage(catalogue, place.stage), place.step);
    const found = /** @type {NumberControl} */ (entry.controls.find((it) => it.id === place.control));
    const settings = stepSettings(stageSettings(doc, place.stage, whose()), place.step);
    const now = isOn(settings, entry) ? /** @type {number} */ (valueOf(settings, found)) : found.neutral;
    return Math.min(Math.max(now + by, found.min), found.max);
  }

  /** One's own document with changes. @param {Change[]} changes @returns {Doc} */
  function changed(changes) {
    const current = whose();
    return changes.reduce((doc, { place, to, by }) => {
      const next = withValue(catalogue, doc, current, place, by === undefined ? /** @type {import("../../types.js").Value} */ (to) : more(doc, place, by));
      // A step that is off in one's own look would show nothing.
      return place.control === "on" ? next : withValue(catalogue, next, current, { ...place, control: "on" }, true);
    }, docOf(store.get(), page?.item));
  }

  /** @returns {Wish[]} */
  function wanted() {
    const now = frame();
    if (!now) return [];
    return shown().sides.flatMap(({ changes, added }, i) => {
      const canvas = canvases[i];
      const room = canvas?.parentElement;
      if (!canvas || !room) return [];
      const larger = shown().close ? CLOSE / Math.max(1, devicePixelRatio) : 1;
      const box = { width: room.clientWidth * larger, height: room.clientHeight * larger };
      const wishes = gallery.wish(canvas, sideId(i), now, box, renderSettings(changed(changes), now.id), added);
      return added ? wishes.map((wish) => ({ ...wish, take: (/** @type {Shown} */ finished) => wish.take(ADDED[added](finished)) })) : wishes;
    });
  }

  function tell() {
    const failed = canvases.map((_, i) => gallery.problem(sideId(i))).find(Boolean);
    text(problem, frame() ? (failed ?? (alike() ? "This frame comes out alike on all sides: look and frame have nothing that this would change." : missingWords(store.get(), page?.item))) : "Open a frame to see it here.");
  }

  /** Whether all sides are there and show the same. */
  function alike() {
    if (!canvases.every(gallery.isDone)) return false;
    const [first, ...others] = canvases.map((it) => /** @type {CanvasRenderingContext2D} */ (it.getContext("2d")).getImageData(0, 0, it.width, it.height).data);
    return others.every((it) => it.length === first?.length && it.every((code, i) => code === first[i]));
  }

  /** Shows the part that the two sliders say on every side. */
  function part() {
    sides.style.setProperty("--part", `${across.value}% ${down.value}%`);
  }

  /** The part follows the pointer. @param {PointerEvent & { currentTarget: EventTarget | null }} event */
  function follow({ currentTarget, offsetX, offsetY }) {
    if (!(currentTarget instanceof HTMLElement)) return;
    across.value = String((100 * offsetX) / currentTarget.clientWidth);
    down.value = String((100 * offsetY) / currentTarget.clientHeight);
    part();
  }

  /** @param {number} to */
  function go(to) {
    if (!DEMONSTRATIONS[to]) return;
    at = to;
    text(title, shown().title);
    text(note, page?.item.note ?? "");
    text(words, shown().words);
    text(see, shown().see);
    canvases = shown().sides.map(({ caption }) => h("canvas", { class: "look-canvas", width: 3, height: 2, role: "img", "aria-label": caption }));
    sides.replaceChildren(...shown().sides.map(({ caption }, i) => h("figure", {}, h("div", { class: "showing-room", onpointermove: follow }, /** @type {HTMLCanvasElement} */ (canvases[i])), h("figcaption", {}, caption))));
    attribute(sides, "data-close", shown().close === true);
    where.hidden = !shown().close;
    pages.show(page?.at ?? at);
    if (!page) history.replaceState(null, "", withPage(location.hash, "demonstration", at));
    gallery.clear();
    update();
  }

  function update() {
    gallery.work();
    tell();
  }

  function onclose() {
    gallery.close();
    const left = page;
    page = null;
    left?.onclose();
    if (pageOf(location.hash, "demonstration") !== null) history.replaceState(null, "", withoutPage(location.hash));
  }

  return {
    close: sheet.close,
    /** @param {number} [which] from 0 @param {CoursePage | null} [of] a teacher's lesson */
    open(which = at, of = null) {
      page = of;
      gallery.open();
      sheet.open();
      go(Math.min(which, DEMONSTRATIONS.length - 1));
      title.focus();
    },
  };
}
