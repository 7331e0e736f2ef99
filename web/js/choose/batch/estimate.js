/** About how many bytes the files of a reel will take: some of its frames are tried at a small size. */

/** @import { Doc, FrameId, ReelFrame, Shown } from "../../../types.js" */
/** @import { Bridge } from "../../bridge/bridge.js" */
/** @import { Renderers, Wish } from "../renderers.js" */
/** @import { Sizes } from "../sizes.js" */
/** @import { BatchWish } from "./run.js" */

import { onScreen, renderSettings } from "../../picture/render-settings.js";
import { plainBytes, savedSize } from "../../pure/save/size.js";

/** The longer side of a frame that is tried, in pixels, and how many are, spread over the reel. */
const TRIED = 640;
const MOST = 5;

/** @param {{ renderers: Renderers, reader: () => Bridge, sizes: Sizes }} wiring */
export function createEstimate({ renderers, reader, sizes }) {
  /** Bytes for a pixel, by frame, settings and file. @type {Map<string, number>} */
  const known = new Map();
  /** Counts questions: what an earlier one still tries is not waited for. */
  let turn = 0;

  /**
   * @param {ReelFrame} frame
   * @param {Doc} doc
   * @param {BatchWish} wish
   * @returns {Promise<number>} bytes for a pixel
   */
  async function tried(frame, doc, { format, quality }) {
    const settings = renderSettings(onScreen(doc, "srgb"), frame.id);
    const key = [frame.id, frame.clip?.number, settings.look, settings.frame, format.id, quality].join("\n");
    const there = known.get(key);
    if (there !== undefined) return there;
    const shown = await new Promise((/** @type {(shown: Shown) => void} */ resolve, reject) => {
      /** @type {Wish[]} */
      let wishes = [];
      const use = renderers.use(() => wishes);
      const end = () => {
        wishes = [];
        use.close();
      };
      wishes = [{ key: `estimate\n${key}`, frame, box: { width: TRIED, height: TRIED }, settings, stage: "screen", take: (made) => (end(), resolve(made)), fail: (reason) => (end(), reject(new Error(reason))) }];
      use.work();
    });
    const bytes = await reader().ask("encodePicture", { pixels: shown.pixels, width: shown.width, format: format.id, quality });
    known.set(key, bytes.length / (shown.width * shown.height));
    return bytes.length / (shown.width * shown.height);
  }

  return {
    /**
     * @param {readonly ReelFrame[]} frames
     * @param {Doc} doc
     * @param {BatchWish} wish
     * @returns {Promise<{ bytes: number, exact: boolean } | null>} not exact: about, or at most; null if it can't be
     *   told, or something newer was asked
     */
    async of(frames, doc, wish) {
      const own = (turn += 1);
      /** @type {Map<FrameId, number>} */
      const pixels = new Map();
      for (const frame of frames) {
        const full = sizes.of(frame);
        const size = full && savedSize(full, wish.side);
        if (size) pixels.set(frame.id, size.width * size.height * (frame.clip && wish.clips === "frames" ? frame.clip.frames : 1));
      }
      const all = [...pixels.values()].reduce((sum, count) => sum + count, 0);
      const plain = plainBytes(wish.format.id, all);
      if (plain || all === 0) return plain;
      const some = frames.filter(({ id }) => pixels.has(id));
      const step = Math.max(1, Math.ceil(some.length / MOST));
      let [sum, count] = [0, 0];
      for (const frame of some.filter((_, i) => i % step === 0)) {
        const perPixel = await tried(frame, doc, wish).catch(() => null);
        if (own !== turn) return null;
        const weight = pixels.get(frame.id) ?? 0;
        if (perPixel === null) continue;
        sum += perPixel * weight;
        count += weight;
      }
      return count > 0 ? { bytes: (sum / count) * all, exact: false } : null;
    },
    /** Nobody waits any more. */
    rest: () => void (turn += 1),
  };
}
