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
import { develop, developers } from "./develop.js";
import { fileStem } from "./download.js";
import { Cancelled } from "./jobs.js";

/** @typedef {ReturnType<typeof createSave>} Save */

/**
 * @param {{ handOver: HandOver, store: Store, jobs: JobRunner, cards: JobCards, source: Bridge, errands: Bridge, client: Client,
 *   notices: Notices, download: Download, fileOf: (frame: ReelFrame) => Promise<Blob> }} wiring
 *   source: the worker that holds the frame
 */
export function createSave({ handOver, store, jobs, cards, source, errands, client, notices, download, fileOf }) {
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
  function wishOf(options) {
    const { frame, settings } = current();
    const wish = { id: frame.id, settings, ...options };
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
     * @param {{ format: string, quality: number }} options
     */
    prepare(options) {
      const { reel, current: id } = store.get();
      if (reel.find((frame) => frame.id === id)?.stage !== "ready") return;
      const { wish, key } = wishOf(options);
      jobs.prepare(key, developers(), (workers) => develop({ source, workers, ...wish }));
    },

    /** It won't. */
    rest: () => jobs.rest(),

    /** Whether something is being saved. */
    busy: () => jobs.busy(),

    /** @param {{ format: string, quality: number }} options */
    async picture(options) {
      const { frame, wish, key } = wishOf(options);
      const kind = handOver.pictures.find(({ id }) => id === options.format);
      if (!kind) throw new Error(`Pictures can't be saved as ${options.format}.`);
      const file = `${frameStem(frame)} - ${stem()}`;
      const words = `Saving ${frame.name} at full size`;
      const made = await long(
        words,
        "Saving the picture",
        (workers, onprogress, begun) => (begun ?? develop({ source, workers, ...wish })).finish(onprogress),
        developers(),
        key,
      );
      if (made) download(`${file}.${kind.extension}`, made, kind.media);
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
      const text = await errands.ask("saveTable", { settings, encoding, grid });
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
