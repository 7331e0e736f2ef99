/** The frames of a reel, one after the other, as finished files: in workers of their own. */

/** @import { Core, Doc, FileChoice, FrameId, ReelFrame, Size } from "../../../types.js" */

import { Bridge, Superseded, reasonOf } from "../../bridge/bridge.js";
import { onScreen, renderSettings } from "../../picture/render-settings.js";
import { develop, developers } from "../../save/develop.js";
import { withNotes } from "../../save/photo-notes.js";
import { smaller } from "../../save/smaller.js";
import { TargetFull } from "./target.js";

/** @import { Target } from "./target.js" */
/** @import { ClipFrame } from "../../clip/decoded.js" */

/**
 * @typedef {object} BatchWish
 * @property {FileChoice} format
 * @property {number} quality of a JPEG
 * @property {number} side the longer side in pixels; 0: full size
 * @property {boolean} exif whether the camera's notes go along
 * @property {boolean} place whether where a photo was taken does, too
 * @property {ClipsAs} clips what a clip becomes
 */

/** A clip, a file for each of its frames, or one for the frame that it stands on. @typedef {"clip" | "frames" | "frame"} ClipsAs */

/** How long a worker may be silent, in ms. */
const SILENCE = 15 * 60_000;

/**
 * @param {{ core: Core, doc: Doc, wish: BatchWish, reached: Map<FrameId, number>,
 *   fileOf: (frame: ReelFrame) => Promise<Blob>, originalOf: (frame: ReelFrame) => Promise<Blob> }} job
 *   reached: of clips that become files for each frame, the first that is not there yet
 */
export function createBatch({ core, doc, wish, reached, fileOf, originalOf }) {
  const source = new Bridge(core, { silence: SILENCE, whole: true });
  const workers = Array.from({ length: developers() }, () => new Bridge(core, { silence: SILENCE, whole: true }));
  let cancelled = false;

  /** @param {ReelFrame} frame @param {(share: number) => void} tell */
  async function finished(frame, tell) {
    const { id, name, clip } = frame;
    const file = await fileOf(frame);
    await source.ask("open", { id, name, file, ...(clip ? { number: clip.number } : {}) });
    const made = await held(id, tell);
    return wish.exif && wish.format.id === "jpeg" ? withNotes(made, file, { place: wish.place }) : made;
  }

  /**
   * The picture that is held, as a file.
   * @param {FrameId} id
   * @param {(share: number) => void} tell
   */
  function held(id, tell) {
    return wish.side > 0 ? smaller(source, { doc, id, side: wish.side, format: wish.format.id, quality: wish.quality }) : develop({ source, workers, id, settings: renderSettings(doc, id), format: wish.format.id, quality: wish.quality }).finish(({ done }) => tell(done));
  }

  /**
   * A clip as a clip.
   * @param {{ frame: ReelFrame, name: string }} item
   * @param {Target} target
   * @param {(share: number) => void} tell
   */
  async function clip({ frame, name }, target, tell) {
    const { savedClip } = await import("../../clip/media.js");
    const settings = renderSettings(onScreen(doc, "rec709"), frame.id);
    let turn = 0;
    /** @param {ClipFrame & Size} decoded */
    const render = async ({ pixels, number, width, height }) => {
      const worker = /** @type {Bridge} */ (workers[(turn += 1) % workers.length]);
      await worker.ask("openStill", { id: frame.id, name: frame.name, pixels, number, width, height }, { transfer: [pixels.buffer] });
      return worker.ask("preview", { id: frame.id, settings, stage: "screen", width, height, quick: false });
    };
    const { rate = 25, frames = 1 } = frame.clip ?? {};
    const made = await savedClip({ file: await originalOf(frame), full: sizeOf(frame), rate, frames, side: wish.side, quality: wish.quality, render, ahead: workers.length, tell, live: () => !cancelled, open: (extension) => target.open(`${name}.${extension}`) });
    return `${made.name} (${made.note})`;
  }

  /**
   * Every frame of a clip as a file; goes on behind the last that is there.
   * @param {{ frame: ReelFrame, name: string }} item
   * @param {Target} target
   * @param {(share: number) => void} tell
   */
  async function frames({ frame, name }, target, tell) {
    const { clipFrames, decodable, openClip } = await import("../../clip/media.js");
    const { rate = 25, frames: count = 1 } = frame.clip ?? {};
    const file = await originalOf(frame);
    const input = openClip(file);
    let last = "";
    let made = reached.get(frame.id) ?? 0;
    try {
      for await (const { pixels, number } of clipFrames({ file, track: await decodable(input), rate, size: sizeOf(frame), from: made })) {
        if (cancelled) throw new Superseded();
        await source.ask("openStill", { id: frame.id, name: frame.name, pixels, number, ...sizeOf(frame) }, { transfer: [pixels.buffer] });
        const bytes = await held(frame.id, () => {});
        if (cancelled) throw new Superseded();
        last = await target.write(`${name} ${String(number + 1).padStart(String(count).length, "0")}.${wish.format.extension}`, new Blob([bytes], { type: wish.format.media }));
        made = number + 1;
        reached.set(frame.id, made);
        tell(Math.min(1, made / count));
      }
    } finally {
      input.dispose();
    }
    return `${made} files, the last of them ${last}`;
  }

  return {
    /**
     * @param {{ frame: ReelFrame, name: string }} item name: of the file, without its ending
     * @param {Target} target
     * @param {(share: number) => void} tell how far it is, 0 ... 1
     * @returns {Promise<string>} the file's name; rejects with one sentence
     */
    async save({ frame, name }, target, tell) {
      try {
        if (frame.clip && wish.clips !== "frame") return await (wish.clips === "clip" ? clip : frames)({ frame, name }, target, tell);
        const made = await finished(frame, tell);
        if (cancelled) throw new Superseded();
        return await target.write(`${name}.${wish.format.extension}`, new Blob([made], { type: wish.format.media }));
      } catch (error) {
        if (cancelled || error instanceof Superseded || error instanceof TargetFull) throw error;
        throw new Error(reasonOf(error));
      }
    },
    cancel() {
      cancelled = true;
      this.end();
    },
    end() {
      for (const bridge of [source, ...workers]) bridge.end(new Superseded());
    },
  };
}

/** @param {ReelFrame} frame @returns {Size} of a clip's frame, which was opened to become one */
function sizeOf({ name, info }) {
  if (!info) throw new Error(`${name} has not been read yet; go on in a moment.`);
  return { width: info.width, height: info.height };
}
