/** Cells that are drawn as they come: which canvas shows what, and what is still wanted. */

/** @import { ReelFrame, RenderSettings, Shown, Size } from "../../types.js" */
/** @import { Renderers, Wish } from "./renderers.js" */

import { attribute } from "../ui/dom.js";
import { paint } from "../ui/picture/side.js";

/** @typedef {ReturnType<typeof createGallery>} Gallery */

/**
 * @param {{ renderers: Renderers, wanted: () => Wish[], onchange: () => void }} wiring
 *   onchange: another picture is there, or could not be made
 */
export function createGallery({ renderers, wanted, onchange }) {
  /** What each canvas shows. @type {Map<HTMLCanvasElement, string>} */
  const done = new Map();
  /** Why there is none, by what it was to show. @type {Map<string, string>} */
  const failed = new Map();
  /** @type {ReturnType<Renderers["use"]> | null} */
  let use = null;

  return {
    open() {
      use ??= renderers.use(() => (use ? wanted() : []));
      done.clear();
      failed.clear();
    },
    close() {
      use?.close();
      use = null;
    },
    work: () => use?.work(),
    /** @param {HTMLCanvasElement} [canvas] that is to be drawn again; all by default */
    clear: (canvas) => (canvas ? void done.delete(canvas) : done.clear()),
    /** @param {HTMLCanvasElement} canvas */
    isDone: (canvas) => done.has(canvas),
    /** @param {string} id */
    problem: (id) => failed.get(id),

    /**
     * @param {HTMLCanvasElement} canvas
     * @param {string} id of what it shows
     * @param {ReelFrame} frame
     * @param {Size} room CSS pixels
     * @param {RenderSettings} settings
     * @param {string} [place] tells two canvases with the same picture apart
     * @returns {Wish[]} none if it is there
     */
    wish(canvas, id, frame, room, settings, place = "") {
      const density = Math.min(3, devicePixelRatio || 1);
      const box = { width: Math.round(room.width * density), height: Math.round(room.height * density) };
      const key = [place, id, frame.id, frame.clip?.number, box.width, box.height, settings.look, settings.frame, settings.delivery].join("\n");
      if (done.get(canvas) === key || box.width < 2) return [];
      return [
        {
          key,
          frame,
          box,
          settings,
          stage: "screen",
          take(/** @type {Shown} */ shown) {
            done.set(canvas, key);
            failed.delete(id);
            paint(canvas, shown);
            attribute(canvas, "data-drawn", id);
            onchange();
          },
          fail(reason) {
            done.set(canvas, key);
            failed.set(id, reason);
            onchange();
          },
        },
      ];
    },
  };
}
