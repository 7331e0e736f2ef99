/** The frames of a reel, one after the other, as finished files: in workers of their own. */

/** @import { Doc, FileChoice, ReelFrame } from "../../../types.js" */

import { Bridge, Superseded, reasonOf } from "../../bridge/bridge.js";
import { renderSettings } from "../../picture/render-settings.js";
import { exifOf, upright, withExif } from "../../pure/batch/exif.js";
import { develop, developers } from "../../save/develop.js";
import { TargetFull } from "./target.js";

/** @import { Target } from "./target.js" */

/**
 * @typedef {object} BatchWish
 * @property {FileChoice} format
 * @property {number} quality of a JPEG
 * @property {number} side the longer side in pixels; 0: full size
 * @property {boolean} exif whether the camera's notes go along
 */

/** How long a worker may be silent, in ms. */
const SILENCE = 15 * 60_000;
/** As much of a photo's file as its notes mostly take, in bytes. */
const HEAD = 1 << 18;

/**
 * @param {{ core: Promise<WebAssembly.Module>, doc: Doc, wish: BatchWish, fileOf: (frame: ReelFrame) => Promise<Blob> }} job
 */
export function createBatch({ core, doc, wish, fileOf }) {
  const source = new Bridge(core, { silence: SILENCE });
  const workers = Array.from({ length: developers() }, () => new Bridge(core, { silence: SILENCE }));
  let cancelled = false;

  /** @param {ReelFrame} frame @param {(share: number) => void} tell */
  async function finished(frame, tell) {
    const { id, name, clip } = frame;
    const file = await fileOf(frame);
    await source.ask("open", { id, name, file, ...(clip ? { number: clip.number } : {}) });
    const made = wish.side > 0 ? await small(id) : await develop({ source, workers, id, settings: renderSettings(doc, id), format: wish.format.id, quality: wish.quality }).finish(({ done }) => tell(done));
    return wish.exif && wish.format.id === "jpeg" ? withNotes(made, file) : made;
  }

  /** @param {string} id */
  async function small(id) {
    // What is encoded from pixels says that it is sRGB, so it has to be.
    const delivery = { ...doc.delivery, display: { ...doc.delivery["display"], screen: "srgb" } };
    const copy = await source.ask("copy", { id, box: { width: wish.side, height: wish.side } });
    await source.ask("adopt", { id: "small", copy });
    const { pixels, width } = await source.ask("preview", { id: "small", settings: renderSettings({ ...doc, delivery }, id), stage: "screen", width: copy.width, height: copy.height, quick: false });
    await source.ask("drop", { id: "small" });
    return new Blob([await source.ask("encodePicture", { pixels, width, format: wish.format.id, quality: wish.quality })]);
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

/**
 * @param {Blob} made a JPEG
 * @param {Blob} original
 */
async function withNotes(made, original) {
  const notes = exifOf(new Uint8Array(await original.slice(0, HEAD).arrayBuffer()));
  if (!notes) return made;
  return new Blob([withExif(new Uint8Array(await made.arrayBuffer()), upright(notes))]);
}
