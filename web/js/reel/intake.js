/**
 * Files on their way onto the reel. All of them are named at once; then each is read, one after the
 * other, in a worker that nobody waits for, and its original is kept. What can't be read is told in
 * one list.
 */

/** @import { Failure, FrameId, Opened, PictureInfo, ReelFrame, SmallCopy, StageSettings } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Clips } from "./clips.js" */
/** @import { Opener } from "./opener.js" */
/** @import { Sources } from "./originals.js" */
/** @import { ReelState } from "./reel.js" */

import { Superseded, reasonOf } from "../bridge/bridge.js";
import { isClip } from "../clip/decoder.js";
import { defaultOf } from "../pure/settings.js";

/** @typedef {ReturnType<typeof createIntake>} Intake */
/** Files that came together. @typedef {{ files: number, choices: number, shown: boolean, opened: FrameId[], done: number, failed: Failure[] }} Batch */

/**
 * @param {{ store: Store, reel: ReelState, sources: Sources, clips: Clips, opener: Opener, notices: Notices,
 *   reader: () => Bridge, keep: (id: FrameId, file: Blob) => Promise<void>,
 *   onknown: (id: FrameId, copy: SmallCopy) => void, onask: (id: FrameId) => void }} wiring
 *   reader: a worker that reads what is not to be shown at once; onask: the person wants to say what
 *   the frame is encoded in
 */
export function createIntake({ store, reel, sources, clips, opener, notices, reader, keep, onknown, onask }) {
  /** @type {{ id: FrameId, file: File, batch: Batch }[]} */
  const queue = [];
  let busy = false;
  /** The frames in it, with the one that is read. @type {Set<FrameId>} */
  const underway = new Set();
  /** The frame that the reader is at. @type {FrameId | null} */
  let reading = null;

  /** @param {PictureInfo} info */
  function suggested({ suggestion }) {
    const { catalogue } = store.get();
    const standard = catalogue ? defaultOf(catalogue, { stage: "intake", step: "source", control: "encoding" }) : "";
    /** @type {Record<string, string>} */
    const source = {};
    if (suggestion.encoding !== standard) source["encoding"] = suggestion.encoding;
    if (suggestion.legal) source["range"] = "legal";
    return /** @type {StageSettings} */ (Object.keys(source).length > 0 ? { source } : {});
  }

  /**
   * Gives a frame that is opened for the first time the settings that its file suggests.
   * @param {FrameId} id
   * @param {PictureInfo} info
   */
  function settle(id, info) {
    if (store.get().history.present.frames[id]) return;
    const initial = suggested(info);
    reel.update(id, { initial });
    reel.settle(id, initial);
  }

  /** @param {string} encoding */
  function labelOf(encoding) {
    const control = store.get().catalogue?.stages[0]?.steps[0]?.controls.find((it) => it.id === "encoding");
    const found = control?.kind === "choice" ? control.options.find((option) => option.id === encoding) : undefined;
    return found?.label ?? encoding;
  }

  /** @param {ReelFrame} frame @returns {Promise<Opened>} */
  async function lookAt(frame) {
    if (!frame.clip) {
      const file = await sources.fileOf(frame);
      reading = frame.id;
      return reader().ask("lookAt", { name: frame.name, file }, { onprogress: reel.reading(frame.id) }).finally(() => reel.read(frame.id));
    }
    const decoder = await clips.decoder(frame);
    await decoder.seek(0);
    const pixels = decoder.pixels(decoder.size);
    reel.update(frame.id, { clip: { rate: decoder.rate, frames: decoder.frames, number: 0 } });
    reading = frame.id;
    return reader().ask("lookAtStill", { name: frame.name, pixels, ...decoder.size, number: 0 }, { transfer: [pixels.buffer] });
  }

  /**
   * Reads a frame for the first time: the first of those that came together is shown at once, unless
   * the person has chosen another one meanwhile.
   * @param {ReelFrame} frame
   * @param {Batch} batch
   */
  async function read(frame, batch) {
    const { id } = frame;
    if (!batch.shown && opener.choices() === batch.choices) {
      const before = store.get().current;
      await opener.choose(id);
      const now = reel.find(id);
      batch.choices = opener.choices();
      batch.shown = now?.stage === "ready";
      if (now?.stage === "failed") {
        if (store.get().current === id && before !== null && reel.find(before)) opener.choose(before);
        batch.choices = opener.choices();
        throw new Error(now.reason);
      }
      if (now?.info) return now.info;
    }
    if (!isWanted(id)) throw new Superseded();
    reel.update(id, { stage: "opening" });
    // A worker that had to be replaced is asked again.
    const again = (/** @type {unknown} */ error) => {
      if (error instanceof Superseded && isWanted(id)) return lookAt(frame);
      throw error;
    };
    const { info, copy } = await lookAt(frame).catch(again).finally(() => (reading = null));
    settle(id, info);
    reel.update(id, { info, stage: "ready" });
    onknown(id, copy);
    return info;
  }

  /** Whether it still stands on the reel. @param {FrameId} id */
  const isWanted = (id) => reel.shown().some((frame) => frame.id === id);

  /** @param {{ id: FrameId, file: File, batch: Batch }} next */
  async function take({ id, file, batch }) {
    const frame = reel.find(id);
    if (!frame || !isWanted(id)) return reel.update(id, { stage: "named" });
    try {
      const info = await read(frame, batch);
      batch.opened.push(id);
      if (batch.files === 1) tell(file.name, info, id);
    } catch (error) {
      if (!isWanted(id)) return reel.update(id, { stage: "named" });
      const reason = reasonOf(error);
      batch.failed.push({ name: file.name, reason, file });
      reel.update(id, { stage: "failed", reason });
      return;
    }
    await keep(id, file);
  }

  /**
   * @param {string} name
   * @param {PictureInfo} info
   * @param {FrameId} id
   */
  function tell(name, { notes, suggestion }, id) {
    const { encoding, reason, sure } = suggestion;
    for (const note of notes) notices.say(`${name}: ${note}`);
    notices.say(`${name} is read as ${labelOf(encoding)}: ${reason.replace(`${encoding}: `, "")}`, {
      action: { label: sure ? "Change" : "Choose encoding", run: () => onask(id) },
    });
  }

  /** @param {Batch} batch */
  function tellAll({ files, opened, failed }) {
    if (failed.length > 0) store.set({ failures: [...store.get().failures, ...failed] });
    if (files === 1 || opened.length === 0) return;
    /** @type {Map<string, number>} */
    const counts = new Map();
    for (const id of opened) {
      const label = labelOf(reel.find(id)?.info?.suggestion.encoding ?? "");
      counts.set(label, (counts.get(label) ?? 0) + 1);
    }
    const said = [...counts].map(([label, count]) => `${counts.size === 1 ? "" : `${count} `}read as ${label}`).join("; ");
    const many = opened.length === 1 ? "1 frame is" : `${opened.length} frames are`;
    notices.say(`${many} open: ${said}.`);
  }

  async function work() {
    if (busy) return;
    busy = true;
    for (let next = queue.shift(); next; next = queue.shift()) {
      await take(next);
      underway.delete(next.id);
      next.batch.done += 1;
      if (next.batch.done === next.batch.files) tellAll(next.batch);
    }
    busy = false;
  }

  /**
   * @param {readonly { id: FrameId, file: File }[]} files
   * @param {number} choices
   */
  function enqueue(files, choices) {
    /** @type {Batch} */
    const batch = { files: files.length, choices, shown: false, opened: [], done: 0, failed: [] };
    for (const { id, file } of files) {
      underway.add(id);
      queue.push({ id, file, batch });
    }
    work();
  }

  return {
    settle,

    /** Whether files are still on their way. */
    busy: () => busy,

    /**
     * Ends the reading of a frame that was taken off the reel, at once.
     * @param {FrameId} id
     */
    giveUp(id) {
      if (id === reading && reader().asked === 1) reader().renew();
    },

    /** @param {File[]} files pictures and clips */
    add(files) {
      if (files.length === 0) return;
      const named = files.map((file) => ({ id: crypto.randomUUID(), file }));
      reel.add(
        named.map(({ id, file }) => {
          /** @type {ReelFrame} */
          const frame = { id, name: file.name, stage: "named", kept: "waiting", file, bytes: file.size, initial: {} };
          return isClip(file) ? { ...frame, clip: { rate: 0, frames: 1, number: 0 } } : frame;
        }),
      );
      enqueue(named, opener.choices());
    },

    /** Reads frames that were taken off the reel before they had been read, and have come back. */
    resume() {
      const back = reel.shown().flatMap(({ id, stage, info, file }) => (stage === "named" && !info && file instanceof File && !underway.has(id) ? [{ id, file }] : []));
      if (back.length > 0) enqueue(back, -1);
    },
  };
}
