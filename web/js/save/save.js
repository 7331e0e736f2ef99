/** Saving: the picture, a table, a hand-over pack, a plate, the look and its link. */

/** @import { HandOver, PackFrame, PackRequest, ReelFrame, RenderSettings, Tell } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { JobCards } from "../ui/save/job-cards.js" */
/** @import { Development } from "./develop.js" */
/** @import { Download } from "./download.js" */
/** @import { JobRunner, Workers } from "./jobs.js" */

import { renderSettings } from "../picture/render-settings.js";
import { Superseded } from "../bridge/bridge.js";
import { savedSize } from "../pure/save/size.js";
import { develop, developers } from "./develop.js";
import { fileStem } from "./download.js";
import { Cancelled } from "./jobs.js";
import { withNotes } from "./photo-notes.js";
import { smaller } from "./smaller.js";

/** @typedef {ReturnType<typeof createSave>} Save */

/**
 * @typedef {object} PictureWish
 * @property {string} format
 * @property {number} quality of a JPEG
 * @property {number} side the longer side in pixels; 0: full size
 * @property {boolean} notes whether what the camera wrote goes along
 * @property {boolean} place whether where it was taken does
 */

/** The longer side of the picture that a file's size is tried on, in pixels. */
const TRIED = 1024;

/**
 * @param {{ handOver: HandOver, store: Store, jobs: JobRunner, cards: JobCards, source: Bridge, reader: () => Bridge, client: Client,
 *   notices: Notices, download: Download, fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring
 *   source: the worker that holds the frame
 */
export function createSave({ handOver, store, jobs, cards, source, reader, client, notices, download, fileOf }) {
  /** @returns {{ frame: ReelFrame, settings: RenderSettings }} */
  function current() {
    const { reel, current: id, history } = store.get();
    const frame = reel.find((it) => it.id === id);
    if (!frame) throw new Error("There is no frame yet; open a picture first.");
    if (frame.stage === "failed") throw new Error(`${frame.name} could not be opened, so there is nothing to save: ${frame.reason}`);
    if (frame.stage !== "ready") throw new Error(`${frame.name} is still being opened; save it in a moment.`);
    return { frame, settings: renderSettings(history.present, frame.id) };
  }

  /**
   * What is asked for when the picture is saved. A clip's frames have one id, so the key tells them apart.
   * @param {{ format: string, quality: number }} options
   */
  function wishOf({ format, quality }) {
    const { frame, settings } = current();
    const wish = { id: frame.id, settings, format, quality };
    return { frame, wish, key: JSON.stringify([wish, frame.clip?.number]) };
  }

  const look = () => store.get().history.present.look;
  const stem = () => fileStem(look().name ?? "look");
  const bareName = (/** @type {ReelFrame} */ frame) => frame.name.replace(/\.[^.]+$/, "");
  const frameStem = (/** @type {ReelFrame} */ frame) => fileStem(bareName(frame));

  /**
   * Long work with a card that shows how far it is.
   * @template T
   * @param {string} words
   * @param {string} what is said to be cancelled
   * @param {(workers: Workers, onprogress: Tell, begun?: Development) => Promise<T>} work
   * @param {number} [count] how many workers it takes
   * @param {string} [key] of what may have been begun
   * @returns {Promise<T | null>} null if it was cancelled
   */
  async function long(words, what, work, count = 1, key) {
    /** @type {Tell} */
    let onprogress = () => {};
    const job = jobs.start(count, (workers, begun) => work(workers, (progress) => onprogress(progress), begun), key);
    const card = cards.open(words, job.cancel);
    onprogress = card.step;
    try {
      return await job.result;
    } catch (error) {
      if (error instanceof Superseded) throw new Error(`${what} was not saved: ${error.message || "another frame was opened meanwhile"}. Save it again.`);
      if (!(error instanceof Cancelled)) throw error;
      notices.say(`${what} was cancelled; no file was written.`);
      return null;
    } finally {
      card.close();
    }
  }

  /**
   * The picture as a file.
   * @param {PictureWish} options
   * @returns {Promise<{ name: string, file: Blob, media: string } | null>} null if it was cancelled
   */
  async function finished({ format, quality, side, notes, place }) {
    const { frame, wish, key } = wishOf({ format, quality });
    const kind = handOver.pictures.find(({ id }) => id === format);
    if (!kind) throw new Error(`Pictures can't be saved as ${format}.`);
    const doc = store.get().history.present;
    const name = `${frameStem(frame)} - ${stem()}.${kind.extension}`;
    const words = side > 0 ? `Saving ${frame.name}` : `Saving ${frame.name} at full size`;
    const made = await long(
      words,
      "Saving the picture",
      async (workers, onprogress, begun) => {
        if (side === 0) return (begun ?? develop({ source, workers, ...wish })).finish(onprogress);
        await openIn(workers[0], frame);
        return smaller(workers[0], { doc, id: frame.id, side, format, quality });
      },
      side > 0 ? 1 : developers(),
      side > 0 ? undefined : key,
    );
    if (!made) return null;
    return { name, file: notes ? await withNotes(made, await fileOf(frame), { place }) : made, media: kind.media };
  }

  /**
   * @param {Bridge} worker
   * @param {ReelFrame} frame
   */
  async function openIn(worker, frame) {
    const number = frame.clip?.number;
    await worker.ask("open", { id: frame.id, name: frame.name, file: await fileOf(frame), ...(number === undefined ? {} : { number }) });
  }

  return {
    /**
     * The picture may be saved soon: what comes before its file is made meanwhile.
     * @param {PictureWish} options
     */
    prepare(options) {
      const { reel, current: id } = store.get();
      if (reel.find((frame) => frame.id === id)?.stage !== "ready") return;
      if (options.side > 0) return jobs.rest();
      const { wish, key } = wishOf(options);
      jobs.prepare(key, developers(), (workers) => develop({ source, workers, ...wish }));
    },

    /** It won't. */
    rest: () => jobs.rest(),

    /** Whether something is being saved. */
    busy: () => jobs.busy(),

    /**
     * About how many bytes the picture's file will take, tried on a smaller one.
     * @param {PictureWish} options
     */
    async estimate({ format, quality, side }) {
      const { frame, settings } = current();
      if (!frame.info) throw new Error("This frame has not been read yet.");
      const size = savedSize(frame.info, side);
      const tried = savedSize(size, TRIED);
      const { pixels, width } = await source.ask("preview", { id: frame.id, settings, stage: "screen", ...tried, quick: false });
      const bytes = await reader().ask("encodePicture", { pixels, width, format, quality });
      return Math.round((bytes.length * size.width * size.height) / (tried.width * tried.height));
    },

    /** @param {PictureWish} options */
    async picture(options) {
      const made = await finished(options);
      if (made) download(made.name, made.file, made.media);
    },

    /** Whether pictures can be handed to other programs of the device. */
    canShare: () => navigator.canShare?.({ files: [new File([], "picture.jpg", { type: "image/jpeg" })] }) ?? false,

    /**
     * As {@link picture}, for another program of the device.
     * @param {PictureWish} options
     */
    async share(options) {
      const kind = handOver.pictures.find(({ id }) => id === options.format);
      const wouldBe = new File([], `picture.${kind?.extension}`, { type: kind?.media ?? "" });
      if (!navigator.canShare?.({ files: [wouldBe] })) throw new Error("This device can\u2019t share files of this format; save it, or share a JPEG.");
      const made = await finished(options);
      if (!made) return;
      const files = [new File([made.file], made.name, { type: made.media })];
      const hand = () =>
        navigator.share({ files }).catch((error) => {
          // Long work lets the press be forgotten: then it takes another one.
          if (error instanceof DOMException && error.name === "NotAllowedError") notices.say(`${made.name} is ready.`, { action: { label: "Share it", run: () => void hand().catch(notices.problem) } });
          else if (!(error instanceof DOMException && error.name === "AbortError")) throw error;
        });
      await hand();
    },

    /** @param {string} kind `grain`, `dust` or `halation` */
    async plate(kind) {
      const { frame, settings } = current();
      const plate = handOver.plates.find(({ id }) => id === kind);
      if (!plate) throw new Error(`There is no plate of ${kind}.`);
      const file = `${frameStem(frame)} - ${stem()} - ${kind}`;
      const made = await long(`Making the plate for ${frame.name}`, "Making the plate", async ([worker]) => {
        await openIn(worker, frame);
        return worker.ask("savePlate", { id: frame.id, settings, kind });
      });
      if (made) download(`${file}.${plate.extension}`, made, plate.media);
    },

    /** @param {{ encoding: string, grid: number }} options */
    async table({ encoding, grid }) {
      const settings = renderSettings(store.get().history.present, "");
      const text = await reader().ask("saveTable", { settings, encoding, grid });
      const more = "It carries colour and tone; what the texture steps do is not in it.";
      download(`${stem()} - ${encoding} - ${grid}.cube`, text, "text/plain", more);
    },

    /**
     * @param {PackRequest} request
     * @param {boolean} withFrame whether this frame stands in the contact sheet
     */
    async pack(request, withFrame) {
      const file = `${stem()} - hand-over.zip`;
      const bytes = await long("Making the pack", "Making the pack", async ([worker], onprogress) => {
        /** @type {PackFrame[]} */
        const frames = [];
        if (withFrame) {
          const { frame, settings } = current();
          frames.push({ file: await fileOf(frame), name: bareName(frame), settings });
        }
        return worker.ask("savePack", { request, frames }, { onprogress });
      });
      if (bytes) download(file, bytes, "application/zip");
    },

    async look() {
      const { pretty } = await client.readLook(JSON.stringify(look()));
      download(`${stem()}.look.json`, pretty, "application/json");
    },

    /** @param {string} link */
    async link(link) {
      await navigator.clipboard.writeText(new URL(link, location.href).href);
      notices.say("The link is copied; it opens this page with this look.");
    },
  };
}
