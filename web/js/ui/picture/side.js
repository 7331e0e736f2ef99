/** One side of the wipe: a preview of the whole picture, and a sharp detail over it. */

/** @import { Box, Shown, Size } from "../../../types.js" */

import { h } from "../dom.js";

/**
 * Of canvases that are read as often as they are painted. The first to ask for the context decides,
 * so whoever paints says so.
 * @type {CanvasRenderingContext2DSettings}
 */
export const READ_BACK = { willReadFrequently: true };

/** @param {"before" | "after"} name */
export function createSide(name) {
  const preview = h("canvas", { class: "preview", width: 1, height: 1 });
  const detail = h("canvas", { class: "detail", width: 1, height: 1, hidden: true });
  const el = h("div", { class: `side side-${name}` }, h("div", { class: "whole" }, preview, detail));
  return {
    el,
    /** @param {Shown} shown */
    preview: (shown) => paint(preview, shown),
    /** @param {HTMLCanvasElement | null} small what stands there until there is a preview */
    standIn(small) {
      detail.hidden = true;
      Object.assign(preview, { width: small?.width ?? 1, height: small?.height ?? 1 });
      if (small) preview.getContext("2d")?.drawImage(small, 0, 0);
    },
    /**
     * @param {Shown | null} shown
     * @param {Box | null} part
     * @param {Size} whole
     */
    detail(shown, part, whole) {
      detail.hidden = !shown || !part;
      if (!shown || !part) return;
      paint(detail, shown);
      detail.style.setProperty("--x", String(part.x / whole.width));
      detail.style.setProperty("--y", String(part.y / whole.height));
      detail.style.setProperty("--w", String(part.width / whole.width));
      detail.style.setProperty("--h", String(part.height / whole.height));
    },
  };
}

/**
 * Shows pixels as they are.
 * @param {HTMLCanvasElement} canvas
 * @param {Shown} shown
 * @param {CanvasRenderingContext2DSettings} [settings]
 */
export function paint(canvas, { width, height, pixels }, settings) {
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
  }
  const context = /** @type {CanvasRenderingContext2D | null} */ (canvas.getContext("2d", settings));
  if (!context) return;
  context.putImageData(new ImageData(/** @type {Uint8ClampedArray<ArrayBuffer>} */ (pixels), width, height), 0, 0);
}
