/** The reel's other frames, as stills to match: through the look, or as they came. */

/** @import { FrameId, ReelFrame, RenderSettings, StageId } from "../../types.js" */
/** @import { Renderers, Wish } from "../choose/renderers.js" */
/** @import { Store } from "../session/store.js" */

import { onScreen, renderSettings } from "../picture/render-settings.js";
import { onReel } from "../pure/history.js";
import { option } from "../ui/controls/option.js";
import { attribute, h, text } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";

/** What a still fits into: more than it is compared at, and enough for its small picture. */
const BOX = { width: 240, height: 240 };

/** @typedef {{ id: FrameId, el: HTMLElement, button: HTMLButtonElement, canvas: HTMLCanvasElement, words: HTMLElement, drawn: string }} Tile */

/**
 * @param {{ store: Store, renderers: Renderers, onchoose: (still: File, name: string) => void, onproblem: (error: unknown) => void }} wiring
 */
export function createStillFrames({ store, renderers, onchoose, onproblem }) {
  /** @type {Map<FrameId, Tile>} */
  let tiles = new Map();
  /** The frame that is the still. @type {FrameId | null} */
  let chosen = null;
  /** @type {ReturnType<Renderers["use"]> | null} */
  let use = null;

  const how = option("Frames", [{ id: "screen", label: "With the look" }, { id: "intake", label: "As they came" }], "screen", again);
  const list = h("ul", { class: "still-list", "aria-label": "Other frames of the reel" });
  const el = h("div", { class: "still-frames" }, how.el, list);

  /** @returns {ReelFrame[]} */
  function others() {
    const { reel, history, current } = store.get();
    return onReel(reel, history.present).filter(({ id, stage }) => id !== current && stage === "ready");
  }

  /** @param {ReelFrame} frame @returns {{ stage: StageId, settings: RenderSettings, key: string }} */
  function asked(frame) {
    const doc = onScreen(store.get().history.present, "srgb");
    const stage = how.value() === "intake" ? "intake" : "screen";
    const settings = renderSettings(stage === "intake" ? { ...doc, frames: { [frame.id]: frame.initial } } : doc, frame.id);
    return { stage, settings, key: ["still", frame.id, frame.clip?.number, stage, ...Object.values(settings)].join("\n") };
  }

  /** @returns {Wish[]} */
  function wanted() {
    return others().flatMap((frame) => {
      const tile = tiles.get(frame.id);
      const { key, ...what } = asked(frame);
      if (!tile || tile.drawn === key) return [];
      const done = () => ((tile.drawn = key), attribute(tile.el, "data-drawn", true));
      return [
        {
          key,
          frame,
          box: BOX,
          ...what,
          take(shown) {
            // The sheet was left, or frames are wanted another way by now.
            if (!use || asked(frame).key !== key) return;
            paint(tile.canvas, shown);
            tile.button.disabled = false;
            text(tile.words, frame.name);
            done();
            // What it was chosen as has changed.
            if (chosen === frame.id) hand(tile, frame.name);
          },
          fail(reason) {
            if (chosen === frame.id) chosen = null;
            mark();
            text(tile.words, `${frame.name}: ${reason}`);
            done();
          },
        },
      ];
    });
  }

  /** @param {ReelFrame} frame @returns {Tile} */
  function make(frame) {
    const canvas = h("canvas", { width: 3, height: 2, "aria-hidden": "true" });
    const words = h("span", {}, frame.name);
    const button = h("button", { type: "button", disabled: true, "aria-pressed": "false", onclick: () => ((chosen = frame.id), mark(), hand(tile, frame.name)) }, canvas, words);
    /** @type {Tile} */
    const tile = { id: frame.id, el: h("li", {}, button), button, canvas, words, drawn: "" };
    return tile;
  }

  /** @param {Tile} tile @param {string} name */
  function hand({ id, canvas }, name) {
    canvas.toBlob((blob) => {
      if (id !== chosen || !use) return;
      // Not under the frame's own name, which may speak of log code: this is a picture for the screen.
      if (blob) onchoose(new File([blob], "still.png", { type: "image/png" }), name);
      else onproblem(new Error(`${name} could not be made a still; choose another frame.`));
    }, "image/png");
  }

  function mark() {
    for (const { id, button } of tiles.values()) attribute(button, "aria-pressed", id === chosen ? "true" : "false");
  }

  function again() {
    for (const tile of tiles.values()) {
      tile.drawn = "";
      tile.button.disabled = true;
    }
    use?.work();
  }

  return {
    el,
    /** @returns {boolean} whether a frame is the still */
    open() {
      const frames = others();
      tiles = new Map(frames.map((frame) => [frame.id, make(frame)]));
      list.replaceChildren(...[...tiles.values()].map((tile) => tile.el));
      el.hidden = frames.length === 0;
      if (chosen !== null && !tiles.has(chosen)) chosen = null;
      mark();
      use ??= renderers.use(() => (use ? wanted() : []));
      use.work();
      return chosen !== null;
    },
    close() {
      use?.close();
      use = null;
    },
    /** Another still was chosen. */
    let() {
      chosen = null;
      mark();
    },
  };
}
