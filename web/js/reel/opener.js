/**
 * Brings the chosen frame into the picture's worker, which holds one at a time. The newest choice
 * wins: what an older one is still at is given up.
 */

/** @import { FrameId, Opened, PictureInfo, ReelFrame, SmallCopy } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Decoder } from "../clip/decoder.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Clips } from "./clips.js" */
/** @import { Sources } from "./originals.js" */
/** @import { ReelState } from "./reel.js" */

import { Superseded, reasonOf } from "../bridge/bridge.js";

/** @typedef {ReturnType<typeof createOpener>} Opener */

/** How long a worker may go on with what nobody waits for any more, in ms. */
const GIVE_UP = 60;

/**
 * @param {{ store: Store, bridge: Bridge, reel: ReelState, sources: Sources, clips: Clips,
 *   onopened: (id: FrameId, info: PictureInfo, copy: SmallCopy) => void }} wiring
 */
export function createOpener({ store, bridge, reel, sources, clips, onopened }) {
  /** The frame that the worker holds. @type {FrameId | null} */
  let held = null;
  /** Counts choices, and what was sent to the worker. */
  let newest = 0;
  let sent = 0;

  /**
   * Waits until the worker can take the next picture, but not for long: then it is ended, whatever
   * it is at, and another one takes its place.
   * @param {() => boolean} wanted whether this is still to be
   */
  async function free(wanted) {
    bridge.stay();
    if (bridge.idle) return;
    await Promise.race([bridge.settled(), new Promise((resolve) => setTimeout(resolve, GIVE_UP))]);
    if (bridge.idle || !wanted()) return;
    // A picture that is being saved must not be lost.
    if (bridge.pinned) return bridge.settled();
    held = null;
    bridge.renew();
  }

  /**
   * @param {FrameId} id
   * @param {() => Promise<Opened>} ask the worker
   */
  async function load(id, ask) {
    held = null;
    sent += 1;
    const own = sent;
    const { info, copy } = await ask();
    if (own === sent) held = id;
    onopened(id, info, copy);
    return info;
  }

  /**
   * @param {ReelFrame} frame
   * @param {Decoder} decoder
   * @param {number} number
   */
  function loadStill({ id, name }, decoder, number) {
    const pixels = decoder.pixels(decoder.size);
    return load(id, () => bridge.ask("openStill", { id, name, pixels, ...decoder.size, number }, { transfer: [pixels.buffer] }));
  }

  /**
   * @param {ReelFrame} frame
   * @param {() => boolean} wanted whether it still is
   */
  async function open(frame, wanted) {
    const { id, name, clip } = frame;
    if (clip) {
      const { number } = clip;
      const seeking = clips.decoder(frame).then(async (it) => {
        await it.seek(number);
        return it;
      });
      const [decoder] = await Promise.all([seeking, free(wanted)]);
      if (!wanted()) return;
      const info = await loadStill(frame, decoder, number);
      reel.update(id, { info, stage: "ready", clip: { rate: decoder.rate, frames: decoder.frames, number } });
      return;
    }
    // What the worker is at is given up from now on, and not only when the file is there.
    const [file] = await Promise.all([sources.fileOf(frame), free(wanted)]);
    if (!wanted()) return;
    const onprogress = reel.reading(id);
    const info = await load(id, () => bridge.ask("open", { id, name, file }, { onprogress })).finally(() => reel.read(id));
    reel.update(id, { info, stage: "ready" });
  }

  /**
   * Makes a frame the current one and opens it, unless it is.
   * @param {FrameId} id
   * @returns {Promise<void>} never rejects: a frame that can't be opened says why
   */
  async function choose(id) {
    const frame = reel.find(id);
    if (!frame) return;
    newest += 1;
    const own = newest;
    const wanted = () => own === newest;
    const { view, current } = store.get();
    if (current !== id) store.set({ current: id, tracePoint: null, trace: null, view: { ...view, scale: "fit", centre: { x: 0.5, y: 0.5 } } });
    if (held === id && frame.info) return reel.update(id, { stage: "ready" });
    reel.update(id, { stage: "opening", reason: undefined });
    try {
      await open(frame, wanted);
    } catch (error) {
      // The worker was replaced under it.
      if (wanted() && error instanceof Superseded) return choose(id);
      if (wanted()) reel.update(id, { stage: "failed", reason: reasonOf(error) });
    }
    const left = reel.find(id);
    if (!wanted() && left?.stage === "opening") reel.update(id, { stage: left.info ? "ready" : "named" });
  }

  return {
    choose,

    /** @param {FrameId} id */
    isHeld: (id) => held === id,

    /** How many choices there were: tells whether another one came meanwhile. */
    choices: () => newest,

    /**
     * Rests on a frame of a clip.
     * @param {FrameId} id
     * @param {number} number
     */
    async showStill(id, number) {
      const own = newest;
      const frame = reel.find(id);
      if (!frame?.clip) return;
      const decoder = await clips.decoder(frame);
      await decoder.seek(number);
      if (own !== newest) return;
      const info = await loadStill(frame, decoder, number);
      reel.update(id, { info, clip: { ...frame.clip, number } });
    },

    /** Opens the current frame again in a worker that had to be replaced. */
    async reopen() {
      held = null;
      const { current } = store.get();
      if (current !== null) await choose(current);
    },

    /** Another worker took the place of the one that held the current frame; what is being opened is asked of it already. */
    async regrown() {
      held = null;
      const { current } = store.get();
      if (current !== null && reel.find(current)?.stage === "ready") await choose(current);
    },

    /** No frame is left to show. */
    close() {
      newest += 1;
      const own = newest;
      free(() => own === newest);
      store.set({ current: null, tracePoint: null, trace: null });
    },
  };
}
