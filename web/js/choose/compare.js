/** Comparing: looks, versions, frames, before and after, beside each other and in words. */

/** @import { Catalogue, Core, ReelFrame, RenderSettings, Shown, View } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Choice } from "../pure/looks/choices.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Pane } from "./pane.js" */
/** @import { Renderers, Wish } from "./renderers.js" */
/** @import { Versions } from "./versions.js" */

import { reasonOf } from "../bridge/bridge.js";
import { renderSettings, screenOf } from "../picture/render-settings.js";
import { onReel } from "../pure/history.js";
import { USUAL_VIEW } from "../pure/kept/record.js";
import { differences } from "../pure/looks/difference.js";
import { PERIOD, mayChange } from "../pure/looks/flicker.js";
import { scaleOf, seen } from "../pure/viewport.js";
import { attribute, h, text } from "../ui/dom.js";
import { createSheet } from "../ui/sheet.js";
import { createDetails } from "./details.js";
import { createDifferencePanel } from "./difference-panel.js";
import { createPane } from "./pane.js";
import { createRoom } from "./room.js";
import { createSlot } from "./slot.js";

/** Most pixels of one rendering, and how many are kept while the sheet is open. */
const MOST = 1_500_000;
const KEPT = 10;
const MODES = /** @type {const} */ (["Wipe", "Two", "Four", "Flicker"]);
/** @typedef {typeof MODES[number]} Mode */

/** How the frame came from the camera. @param {Choice["look"]} look @returns {Choice} */
const before = (look) => ({ id: "before", kind: "bench", name: "As the camera saw it", what: "before", note: "", look, colour: true });

/** What a side of the comparison is called in the title. @param {Choice} choice */
function titleOf({ id, letter, name }) {
  if (letter) return `version ${letter}`;
  return id === "now" ? "what is on now" : id === "before" ? "the shot as it came" : name;
}

/**
 * @param {{ core: Core, catalogue: Catalogue, store: Store, edits: Edits, client: Client, notices: Notices, renderers: Renderers,
 *   versions: Versions, fileOf: (frame: ReelFrame) => Promise<Blob>, others: () => Promise<Choice[]> }} wiring others: one's own looks and the library's
 */
export function createCompare({ core, catalogue, store, edits, client, notices, renderers, versions, fileOf, others }) {
  /** @type {Choice[]} */
  let rest = [];
  /** @type {Mode} */
  let mode = "Wipe";
  /** What each slot shows: a choice and a frame. */
  let slots = [0, 1, 2, 3].map(() => ({ id: "now", frame: /** @type {string | null} */ (null) }));
  /** The look between the first two, while it is tried. @type {Choice | null} */
  let blended = null;
  let view = USUAL_VIEW;
  let wipe = { share: 0.5, degrees: 0 };
  let holding = false;
  /** Of the flicker: which one is seen, and when it changed last. */
  let lit = 0;
  /** @type {number | null} */
  let changed = null;
  let flickering = 0;
  /** What was rendered. @type {Map<string, Shown>} */
  const cache = new Map();
  /** What each canvas shows. @type {Map<HTMLCanvasElement, string>} */
  const painted = new Map();
  /** @type {ReturnType<Renderers["use"]> | null} */
  let use = null;
  /** @type {{ pane: Pane, slots: number[] }[]} */
  let panes = [];
  /** What the detail over each canvas is a part of. @type {Map<HTMLCanvasElement, string>} */
  const detailed = new Map();
  const details = createDetails({ core, fileOf, onproblem: (reason) => panel.say(reason) });

  const modes = h("div", { class: "segments", role: "group", "aria-label": "How they are shown" }, ...MODES.map((it) => h("button", { class: "segment-button", type: "button", "data-mode": it, onclick: () => setMode(it) }, it)));
  const fit = h("button", { class: "pill", type: "button", onclick: () => setView({ ...view, scale: "fit" }) }, "Fit");
  const whole = h("button", { class: "pill", type: "button", title: "A pixel of the frame for one of the screen", onclick: () => setView({ ...view, scale: 1 / (devicePixelRatio || 1) }) }, "1:1");
  const roomButton = h("button", { class: "pill", type: "button", onclick: openRoom }, "For the room");
  const sheet = createSheet({ title: "Compare", kind: "compare", tools: [modes, fit, whole, roomButton], onclose });
  const table = h("div", { class: "compare-table" });
  const slotViews = slots.map((_, i) =>
    createSlot({
      number: i + 1,
      onchoose(id, frame) {
        slots = slots.map((slot, k) => (k === i ? { id, frame } : slot));
        if (i < 2) blended = null;
        show();
      },
      ontake: () => take(choiceOf(i)),
    }),
  );
  const panel = createDifferencePanel({
    catalogue,
    client,
    onblend(look, words) {
      blended = look && { id: "blend", kind: "bench", name: words, what: "", note: "", look, colour: true };
      show();
    },
    onkeep(look) {
      try {
        panel.say(`Kept as version ${versions.keep(look).letter}.`);
      } catch (error) {
        panel.say(reasonOf(error));
      }
      show();
    },
    ontake: (look) => take(choice(look)),
    onletgo(letter) {
      const back = versions.letGo(letter);
      panel.say(`Version ${letter} is let go.`, () => {
        try {
          const now = back();
          panel.say(now === letter ? `Version ${letter} is back.` : `Version ${letter} is back as version ${now}.`);
        } catch (error) {
          panel.say(reasonOf(error));
        }
        show();
      });
      show();
    },
  });
  const room = createRoom({ onstep: () => use?.work() });
  sheet.body.append(h("div", { class: "compare-main" }, table), panel.el, room.el);
  sheet.el.addEventListener("keydown", onkeydown);
  sheet.el.addEventListener("keyup", (event) => event.key === " " && hold(false));

  const present = () => store.get().history.present;
  /** @param {Choice["look"]} look @returns {Choice} */
  const choice = (look) => ({ id: "now", kind: "bench", name: look.name ?? "Untitled look", what: "on now", note: look.note ?? "", look, colour: true });
  const all = () => [choice(present().look), before(present().look), ...versions.choices(), ...rest];
  const reel = () => onReel(store.get().reel, present()).filter(({ stage }) => stage === "ready");

  /** @param {number} i @returns {Choice} */
  function choiceOf(i) {
    if (i === 1 && blended) return blended;
    return all().find(({ id }) => id === slots[i]?.id) ?? choice(present().look);
  }

  /** @param {number} i @returns {ReelFrame | null} */
  function frameOf(i) {
    const frames = reel();
    return frames.find(({ id }) => id === slots[i]?.frame) ?? frames.find(({ id }) => id === store.get().current) ?? null;
  }

  /** @param {Choice} it @param {ReelFrame} frame @returns {RenderSettings} */
  const settingsOf = (it, frame) => renderSettings({ ...present(), look: it.look }, frame.id);

  /**
   * @param {Choice} it
   * @param {ReelFrame} frame
   * @param {{ width: number, height: number }} room CSS pixels
   */
  function keyOf(it, frame, room) {
    const density = Math.min(3, devicePixelRatio || 1);
    const scale = Math.min(1, Math.sqrt(MOST / (room.width * room.height * density ** 2)));
    const box = { width: Math.round(room.width * density * scale), height: Math.round(room.height * density * scale) };
    const settings = settingsOf(it, frame);
    const stage = it.id === "before" ? /** @type {const} */ ("intake") : /** @type {const} */ ("screen");
    return { box, settings, stage, key: [frame.id, frame.clip?.number, stage, box.width, box.height, settings.look, settings.frame, settings.delivery].join("\n") };
  }

  /**
   * @param {HTMLCanvasElement | null} canvas
   * @param {Choice} it
   * @param {ReelFrame} frame
   * @param {{ width: number, height: number }} space
   * @param {(shown: Shown) => void} put
   * @returns {Wish[]}
   */
  function wish(canvas, it, frame, space, put) {
    const { key, ...how } = keyOf(it, frame, space);
    const there = cache.get(key);
    if (there) {
      if (!canvas || painted.get(canvas) !== key) put(there);
      if (canvas) painted.set(canvas, key);
      return [];
    }
    if (how.box.width < 2) return [];
    const take = (/** @type {Shown} */ shown) => {
      cache.set(key, shown);
      for (const old of [...cache.keys()].slice(0, -KEPT)) cache.delete(old);
      use?.work();
    };
    return [{ key, frame, ...how, take, fail: (reason) => (take({ width: 1, height: 1, pixels: new Uint8ClampedArray(4) }), panel.say(`${it.name}: ${reason}`)) }];
  }

  /** @returns {Wish[]} */
  function wanted() {
    if (!use) return [];
    if (room.isOpen()) return room.wanted(wish);
    const seenNow = panes.flatMap(({ pane, slots: own }) =>
      own.flatMap((i, at) => {
        const frame = frameOf(i);
        const canvas = pane.canvases[at];
        if (!frame || !canvas) return [];
        const it = holding ? before(present().look) : choiceOf(i);
        return wish(canvas, it, frame, pane.paneSize(), (shown) => {
          pane.show(at, shown);
          attribute(canvas, "data-drawn", it.id);
        });
      }),
    );
    lookInto();
    for (const { pane } of panes) pane.say(seenNow.length > 0 ? "Rendering \u2026" : "");
    const frame = frameOf(0);
    const [first] = panes;
    const ahead = frame && first ? wish(null, before(present().look), frame, first.pane.paneSize(), () => {}) : [];
    return [...seenNow, ...panel.wanted(wish), ...ahead];
  }

  /** From a pixel of the frame for one of the screen on, what is seen is rendered at full size. */
  function lookInto() {
    details.want(
      panes.flatMap(({ pane, slots: own }) =>
        own.flatMap((i, at) => {
          const frame = frameOf(i);
          const canvas = pane.canvases[at];
          if (!canvas || !frame?.info) return [];
          const { info } = frame;
          const it = holding ? before(present().look) : choiceOf(i);
          const { settings, stage } = keyOf(it, frame, pane.paneSize());
          const what = [frame.id, frame.clip?.number, stage, settings.look, settings.frame, settings.delivery].join("\n");
          const near = scaleOf(view, info, pane.paneSize()) * (devicePixelRatio || 1) > 0.999;
          const [was, of] = (detailed.get(canvas) ?? "").split("\n\n");
          if (!near || was !== what) {
            pane.hideDetail(at);
            detailed.delete(canvas);
          }
          const part = seen(view, info, pane.paneSize());
          const key = `${what}\n\n${Object.values(part).join()}`;
          if (!near || (was === what && of === Object.values(part).join())) return [];
          const take = (/** @type {Shown} */ shown) => {
            detailed.set(canvas, key);
            pane.showDetail(at, shown, part, info);
          };
          return [{ key: `${i}\n${key}`, frame, settings, stage, part, take }];
        }),
      ),
    );
  }

  /** @param {Mode} next */
  function setMode(next) {
    mode = next;
    clearInterval(flickering);
    flickering = mode === "Flicker" && !matchMedia("(prefers-reduced-motion: reduce)").matches ? setInterval(flick, PERIOD) : 0;
    lit = 0;
    layOut();
    show();
  }

  /** Shows the other one, if the last change is long enough ago. */
  function flick() {
    const now = performance.now();
    if (!mayChange(changed, now)) return;
    changed = now;
    lit = 1 - lit;
    show();
  }

  function layOut() {
    for (const { pane } of panes) pane.close();
    painted.clear();
    detailed.clear();
    const two = mode === "Wipe" || mode === "Flicker";
    const groups = two ? [[0, 1]] : mode === "Two" ? [[0], [1]] : [[0], [1], [2], [3]];
    panes = groups.map((own) => {
      const pane = createPane({
        label: two ? "Two renderings" : `Rendering ${(own[0] ?? 0) + 1}`,
        view: () => view,
        size: () => frameOf(own[0] ?? 0)?.info ?? null,
        onview: setView,
        ...(two ? { wipe: () => (mode === "Flicker" ? { share: lit === 0 ? 1 : 0, degrees: 0 } : wipe), onwipe: (/** @type {typeof wipe} */ next) => ((wipe = next), show()) } : {}),
      });
      pane.el.addEventListener("resized", () => use?.work());
      return { pane, slots: own };
    });
    table.replaceChildren(...panes.map(({ pane, slots: own }) => h("div", { class: "compare-cell" }, pane.el, h("div", { class: "compare-slots" }, ...own.map((i) => slotViews[i]?.el ?? "")))));
    attribute(table, "data-mode", mode);
  }

  /** @param {View} next */
  function setView(next) {
    view = next;
    for (const { pane } of panes) pane.update();
    lookInto();
  }

  function show() {
    for (const button of modes.children) attribute(button, "aria-pressed", String(button.getAttribute("data-mode") === mode));
    const lists = { choices: all(), frames: reel() };
    slotViews.forEach((slot, i) => slot.update({ ...lists, chosen: choiceOf(i), frame: frameOf(i), lit: mode === "Flicker" && i === lit }));
    for (const { pane } of panes) pane.update();
    panel.update({ first: choiceOf(0), second: choiceOf(1), target: all().find(({ id }) => id === slots[1]?.id) ?? choice(present().look), frames: [frameOf(0), frameOf(1)], versions: versions.all(), screen: screenOf(present()) });
    const title = `${titleOf(choiceOf(0))} and ${titleOf(choiceOf(1))}`;
    text(sheet.heading, title.charAt(0).toUpperCase() + title.slice(1));
    use?.work();
  }

  /** @param {boolean} on the picture before everything, as long as it is held */
  function hold(on) {
    if (holding === on) return;
    holding = on;
    attribute(sheet.el, "data-holding", on);
    use?.work();
  }

  /** @param {Choice} it */
  function take(it) {
    sheet.close();
    if (it.id === "before" || it.look === present().look) return;
    edits.setLook(it.look);
    notices.say(`\u201c${it.name}\u201d is on.`, { topic: "wall", fades: true, action: { label: "Undo", run: edits.undo } });
  }

  function openRoom() {
    const count = mode === "Four" ? 4 : 2;
    room.open(slots.slice(0, count).flatMap((_, i) => {
      const frame = frameOf(i);
      return frame ? [{ choice: choiceOf(i), frame }] : [];
    }));
    use?.work();
  }

  /** @param {KeyboardEvent} event */
  function onkeydown(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || room.isOpen()) return;
    if (event.target instanceof Element && event.target.closest("input, select, textarea")) return;
    if (event.key === " " && !(event.target instanceof HTMLButtonElement)) hold(true);
    else if (event.key.toLowerCase() === "f") {
      if (mode !== "Flicker") setMode("Flicker");
      clearInterval(flickering);
      flick();
    } else return;
    event.preventDefault();
  }

  function onclose() {
    // Closing is told a moment later: by then it may be open again.
    if (sheet.isOpen()) return;
    use?.close();
    use = null;
    clearInterval(flickering);
    cache.clear();
    painted.clear();
    detailed.clear();
    details.close();
    room.close();
  }

  return {
    /**
     * @param {Choice} [first]
     * @param {Choice} [second]
     */
    async open(first, second) {
      rest = await others();
      const { look } = present();
      // The newest that is not what is on now.
      const kept = versions.choices().filter((it) => differences(catalogue, it.look, look).length > 0);
      const start = [first?.id ?? kept.at(-1)?.id ?? "before", second?.id ?? "now", kept.at(-2)?.id ?? "before", kept.at(-3)?.id ?? "before"];
      slots = start.map((id) => ({ id: id === "bench" ? "now" : id, frame: null }));
      blended = null;
      view = USUAL_VIEW;
      sheet.open();
      use ??= renderers.use(wanted);
      setMode(mode === "Flicker" ? "Wipe" : mode);
    },
  };
}
