/** About how many bytes the files of a reel will take: some of its frames are tried at a small size. */

/** @import { Doc, FrameId, ReelFrame, Shown, Size } from "../../../types.js" */
/** @import { Bridge } from "../../bridge/bridge.js" */
/** @import { ClipFrame } from "../../clip/decoded.js" */
/** @import { Renderers, Wish } from "../renderers.js" */
/** @import { Sizes } from "../sizes.js" */
/** @import { BatchWish } from "./run.js" */

import { onScreen, renderSettings } from "../../picture/render-settings.js";
import { plainBytes, savedSize } from "../../pure/save/size.js";

/** The longer side of a frame that is tried, in pixels, and how many are, spread over the reel. */
const TRIED = 640;
const MOST = 5;

/** @param {{ renderers: Renderers, reader: () => Bridge, sizes: Sizes, originalOf: (frame: ReelFrame) => Promise<Blob> }} wiring */
export function createEstimate({ renderers, reader, sizes, originalOf }) {
  /** Bytes for a pixel, by frame, settings and file. @type {Map<string, number>} */
  const known = new Map();
  /** Bytes of clips as clips, by the same. @type {Map<string, number | null>} */
  const knownClips = new Map();
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

  /**
   * @param {ReelFrame} frame
   * @param {Doc} doc
   * @param {BatchWish} wish
   * @param {() => boolean} live
   * @returns {Promise<number | null>} bytes of the whole clip; null if that can't be told
   */
  async function asClip(frame, doc, { side, quality }, live) {
    const settings = renderSettings(onScreen(doc, "rec709"), frame.id);
    const key = [frame.id, settings.look, settings.frame, side, quality].join("\n");
    const there = knownClips.get(key);
    if (there !== undefined) return there;
    const { rate = 25, frames = 1 } = frame.clip ?? {};
    const full = sizes.of(frame);
    if (!full) return null;
    /** @param {ClipFrame & Size} decoded */
    const render = async ({ pixels, number, width, height }) => {
      const worker = reader();
      await worker.ask("openStill", { id: frame.id, name: frame.name, pixels, number, width, height }, { transfer: [pixels.buffer] });
      return worker.ask("preview", { id: frame.id, settings, stage: "screen", width, height, quick: false });
    };
    const { clipBytes } = await import("../../clip/media.js");
    const bytes = await clipBytes({ file: await originalOf(frame), full, rate, frames, side, quality, render, live });
    if (live()) knownClips.set(key, bytes);
    return bytes;
  }

  /**
   * @param {readonly ReelFrame[]} frames that become pictures
   * @param {Doc} doc
   * @param {BatchWish} wish
   * @param {() => boolean} live
   * @returns {Promise<{ bytes: number, exact: boolean } | null>} null if it can't be told
   */
  async function asPictures(frames, doc, wish, live) {
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
      if (!live()) return null;
      const weight = pixels.get(frame.id) ?? 0;
      if (perPixel === null) continue;
      sum += perPixel * weight;
      count += weight;
    }
    return count > 0 ? { bytes: (sum / count) * all, exact: false } : null;
  }

  return {
    /**
     * @param {readonly ReelFrame[]} frames
     * @param {Doc} doc
     * @param {BatchWish} wish
     * @returns {Promise<{ bytes: number, exact: boolean, clips: boolean } | null>} not exact: about, or at most; clips: whether
     *   they are counted; null if it can't be told, or something newer was asked
     */
    async of(frames, doc, wish) {
      const own = (turn += 1);
      const live = () => own === turn;
      const isClip = (/** @type {ReelFrame} */ { clip }) => clip !== undefined && wish.clips === "clip";
      const pictures = frames.filter((frame) => !isClip(frame));
      let found = pictures.length > 0 ? await asPictures(pictures, doc, wish, live) : { bytes: 0, exact: true };
      let clips = true;
      for (const frame of frames.filter(isClip)) {
        const bytes = live() ? await asClip(frame, doc, wish, live).catch(() => null) : null;
        clips &&= bytes !== null;
        if (found && bytes !== null) found = { bytes: found.bytes + bytes, exact: false };
      }
      return found && live() && found.bytes > 0 ? { ...found, clips } : null;
    },
    /** Nobody waits any more. */
    rest: () => void (turn += 1),
  };
}
