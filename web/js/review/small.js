/** Small pictures of the reel's frames with the look on: also of those that the reel has not shown yet. */

/** @import { FrameId, ReelFrame, Shown } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */

import { renderSettings } from "../picture/render-settings.js";

/** @typedef {ReturnType<typeof createSmall>} Small */

/**
 * @param {{ errands: Bridge, reader: () => Bridge, store: Store, fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring
 */
export function createSmall({ errands, reader, store, fileOf }) {
  /** @param {FrameId} id */
  const rendered = (id) => errands.ask("thumb", { id, settings: renderSettings(store.get().history.present, id), stage: "screen" });

  /**
   * @param {ReelFrame} frame
   * @returns {Promise<Shown | null>} null if there is none to be had
   */
  async function shownOf(frame) {
    try {
      return await rendered(frame.id);
    } catch {
      // Nobody has made a small copy of it yet.
    }
    try {
      const { copy } = await reader().ask("lookAt", { name: frame.name, file: await fileOf(frame) });
      await errands.ask("adopt", { id: frame.id, copy });
      return await rendered(frame.id);
    } catch {
      return null;
    }
  }

  return {
    /**
     * Paints a frame when its turn has come, covering the canvas; or leaves it empty.
     * @param {HTMLCanvasElement} canvas
     * @param {ReelFrame} frame
     * @param {"cover" | "width"} fit width: the canvas becomes as high as the picture
     */
    async paint(canvas, frame, fit = "cover") {
      const shown = await shownOf(frame);
      if (!shown) return;
      const bitmap = await createImageBitmap(new ImageData(shown.pixels, shown.width, shown.height));
      if (fit === "width") canvas.height = Math.round((canvas.width * shown.height) / shown.width);
      const scale = Math.max(canvas.width / shown.width, canvas.height / shown.height);
      const [width, height] = [shown.width * scale, shown.height * scale];
      canvas.getContext("2d")?.drawImage(bitmap, (canvas.width - width) / 2, (canvas.height - height) / 2, width, height);
    },
  };
}
