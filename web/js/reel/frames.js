/** Opening pictures and looks, and going from frame to frame of the reel. */

/** @import { FrameId, PictureInfo, ReelFrame, SmallCopy, StageSettings } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Decoder } from "../clip/decoder.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */

import { isClip, openDecoder, stillFile } from "../clip/decoder.js";
import { renderSettings } from "../picture/render-settings.js";
import { verdictOf } from "../pure/health.js";
import { amend } from "../pure/history.js";
import { defaultOf } from "../pure/settings.js";

/** @typedef {ReturnType<typeof createFrames>} Frames */

/**
 * @param {{ store: Store, bridge: Bridge, client: Client, edits: Edits, notices: Notices,
 *   onopened: (id: FrameId, copy: SmallCopy) => void, onremoved: (id: FrameId) => void, onask: (id: FrameId) => void }} wiring
 */
export function createFrames({ store, bridge, client, edits, notices, onopened, onremoved, onask }) {
  /** The frame that the worker holds. @type {FrameId | null} */
  let held = null;

  /** The clip that was looked at last. @type {{ id: FrameId, decoder: Promise<Decoder> } | null} */
  let decoded = null;

  /** @param {FrameId} id */
  const find = (id) => store.get().reel.find((frame) => frame.id === id) ?? null;

  /**
   * @param {FrameId} id
   * @param {Partial<ReelFrame>} news
   */
  function update(id, news) {
    store.set({ reel: store.get().reel.map((frame) => (frame.id === id ? { ...frame, ...news } : frame)) });
  }

  /**
   * Opens a picture's file in the worker.
   * @param {FrameId} id
   * @param {string} name
   * @param {Blob} file
   * @returns {Promise<PictureInfo>}
   */
  async function load(id, name, file) {
    const { info, copy } = await bridge.ask("open", { id, name, file });
    held = id;
    onopened(id, copy);
    return info;
  }

  /**
   * The decoder of a clip; that of another is let go.
   * @param {{ id: FrameId, clip: { file: Blob, rate?: number } }} frame
   */
  function decoder({ id, clip }) {
    if (decoded?.id !== id) {
      decoded?.decoder.then(({ close }) => close()).catch(() => {});
      decoded = { id, decoder: openDecoder(clip.file, clip.rate) };
      decoded.decoder.catch(() => {
        if (decoded?.id === id) decoded = null;
      });
    }
    return decoded.decoder;
  }

  /**
   * Opens a frame of a clip in the worker.
   * @param {FrameId} id
   * @param {string} name
   * @param {Decoder} from
   * @param {number} number
   * @returns {Promise<PictureInfo>}
   */
  async function loadStill(id, name, from, number) {
    await from.seek(number);
    const pixels = from.pixels(from.size);
    const { info, copy } = await bridge.ask("openStill", { id, name, pixels, ...from.size, number }, { transfer: [pixels.buffer] });
    held = id;
    onopened(id, copy);
    return info;
  }

  /**
   * Rests on a frame of the clip.
   * @param {FrameId} id
   * @param {number} number
   */
  async function showStill(id, number) {
    const frame = find(id);
    if (!frame?.clip) return;
    const info = await loadStill(id, frame.name, await decoder({ id, clip: frame.clip }), number);
    update(id, { info, clip: { ...frame.clip, number } });
  }

  /** @param {FrameId} id */
  async function choose(id) {
    const frame = find(id);
    if (!frame) return;
    if (held === id && frame.info) return store.set({ current: id });
    if (frame.clip) await showStill(id, frame.clip.number);
    else {
      const content = await fileOf(frame);
      const info = await load(id, frame.name, content);
      update(id, { info, file: content });
    }
    const { view } = store.get();
    store.set({ current: id, tracePoint: null, view: { ...view, scale: "fit", centre: { x: 0.5, y: 0.5 } } });
  }

  /**
   * Adds a frame to the reel with the settings that its file suggests, and says so.
   * @param {File} file
   */
  async function openPicture(file) {
    const id = crypto.randomUUID();
    add(id, file.name, await load(id, file.name, file), { file });
  }

  /** @param {File} file */
  async function openClip(file) {
    const id = crypto.randomUUID();
    const from = await decoder({ id, clip: { file } });
    const info = await loadStill(id, file.name, from, 0);
    add(id, file.name, info, { clip: { file, rate: from.rate, frames: from.frames, number: 0 } });
  }

  /**
   * @param {FrameId} id
   * @param {string} name
   * @param {PictureInfo} info
   * @param {Partial<ReelFrame>} content
   */
  function add(id, name, info, content) {
    const initial = suggested(info);
    const { history, reel, view } = store.get();
    const frames = { ...history.present.frames, [id]: initial };
    store.set({
      reel: [...reel, { id, name, ...content, info, initial }],
      history: amend(history, { ...history.present, frames }),
      current: id,
      tracePoint: null,
      view: { ...view, scale: "fit", centre: { x: 0.5, y: 0.5 } },
    });
    for (const note of info.notes) notices.say(`${name}: ${note}`);
    notices.say(`${name} is read as ${said(info.suggestion)}`, {
      action: { label: info.suggestion.sure ? "Change" : "Choose encoding", run: () => onask(id) },
    });
  }

  /** @param {PictureInfo["suggestion"]} suggestion */
  function said({ encoding, reason }) {
    const { catalogue } = store.get();
    const control = catalogue?.stages[0]?.steps[0]?.controls.find((it) => it.id === "encoding");
    const label = control?.kind === "choice" ? control.options.find((option) => option.id === encoding)?.label : undefined;
    return `${label ?? encoding}: ${reason.replace(`${encoding}: `, "")}`;
  }

  /** @param {PictureInfo} info */
  function suggested({ suggestion }) {
    const { catalogue } = store.get();
    const standard = catalogue ? defaultOf(catalogue, { stage: "intake", step: "source", control: "encoding" }) : "";
    /** @type {Record<string, string>} */
    const source = {};
    if (suggestion.encoding !== standard) source.encoding = suggestion.encoding;
    if (suggestion.legal) source.range = "legal";
    return /** @type {StageSettings} */ (Object.keys(source).length > 0 ? { source } : {});
  }

  /**
   * A table is not opened but examined: one notice with what hurts most.
   * @param {File} file
   */
  async function examineTable(file) {
    const settings = renderSettings(store.get().history.present, "");
    const { format, size, worst, findings } = await client.checkTable(file.name, file, settings);
    const finding = findings.find(({ severity }) => severity === worst);
    const verdict = verdictOf(worst);
    const words = worst === "info" || !finding ? `${verdict}.` : `${verdict}: ${finding.what} ${finding.advice}`;
    notices.say(`${file.name} is a table (${format}, grid ${size}), so it was examined. ${words}`, { stays: true });
  }

  /** @param {File} file */
  async function openLook(file) {
    const { look } = await client.readLook(await file.text());
    edits.setLook(look);
    notices.say(`The look of ${file.name} is on; undo brings the one before back.`);
  }

  return {
    /** @param {FrameId} id */
    isHeld: (id) => held === id,

    decoder,
    showStill,

    /** Opens the current frame again in a worker that had to be replaced. */
    reopen() {
      held = null;
      const { current } = store.get();
      if (current !== null) choose(current).catch(notices.problem);
    },

    /** @param {FrameId} id */
    choose: (id) => choose(id).catch(notices.problem),

    /** @param {Iterable<File>} files pictures and looks in any order */
    async open(files) {
      for (const file of files) {
        try {
          if (file.name.toLowerCase().endsWith(".json")) await openLook(file);
          else if (/\.(cube|clf|cdl|cc|ccc)$/i.test(file.name)) await examineTable(file);
          else if (isClip(file)) await openClip(file);
          else await openPicture(file);
        } catch (error) {
          const reason = error instanceof Error ? error.message : String(error);
          notices.problem(new Error(`${file.name}: ${reason}`));
        }
      }
    },

    /** @param {FrameId} id */
    remove(id) {
      const reel = store.get().reel.filter((frame) => frame.id !== id);
      if (reel.length === 0) return notices.say("The last frame stays; open another one to take its place.");
      store.set({ reel });
      if (decoded?.id === id) {
        decoded.decoder.then(({ close }) => close()).catch(() => {});
        decoded = null;
      }
      onremoved(id);
      const next = reel[0];
      if (store.get().current === id && next) choose(next.id).catch(notices.problem);
    },
  };
}

/**
 * A frame as a picture's file.
 * @param {ReelFrame} frame
 * @returns {Promise<Blob>}
 */
export async function fileOf({ file, url, name, clip }) {
  if (file) return file;
  if (clip) return stillFile(clip);
  const response = url ? await fetch(url).catch(() => null) : null;
  if (!response?.ok) throw new Error(`${name} could not be loaded. Check the connection and choose it again.`);
  return response.blob();
}
