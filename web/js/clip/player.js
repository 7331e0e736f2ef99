/**
 * Plays the current clip through the look. Frames go to whichever worker has least to do; if all
 * have enough, the newest is left out. At rest the frame is a picture like any other.
 */

/** @import { Asked, SideName, Size } from "../../types.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Picture } from "../ui/picture/picture.js" */
/** @import { Transport } from "../ui/transport.js" */
/** @import { Decoder } from "./decoder.js" */

import { Bridge } from "../bridge/bridge.js";
import { renderSettings } from "../picture/render-settings.js";
import { PREVIEW_MOST } from "../picture/scheduler.js";
import { SIZES, beginPace, came, offered, paceWords } from "../pure/pace.js";
import { placed, previewSize } from "../pure/viewport.js";

/** How fast the usual time of a frame follows what is measured. */
const LAG_GAIN = 0.08;
/** A frame is shown when it is this much later than usual, but no more than so many ms. */
const LAG_ROOM = 1.3;
const LAG_ROOM_MOST = 30;

/** @typedef {ReturnType<typeof createPlayer>} Player */

/** Clips of more frames per second are played by every second one. */
const RATE_MOST = 31;
const WORKERS = Math.min(4, Math.max(2, (navigator.hardwareConcurrency || 2) - 1));

/**
 * @param {{ core: Promise<WebAssembly.Module>, store: Store, frames: Frames, picture: Picture,
 *   transport: Transport, onproblem: (error: unknown) => void }} wiring
 */
export function createPlayer({ core, store, frames, picture, transport, onproblem }) {
  /** `pending`: frames that it has been given. @type {{ bridge: Bridge, pending: number }[]} */
  const workers = [];
  /** What is playing. @type {{ id: string, decoder: Decoder, stop: () => void } | null} */
  let playing = null;
  let pace = beginPace();
  /** Frames are shown in the order in which they were taken. @type {Promise<unknown>} */
  let showing = Promise.resolve();
  let number = 0;
  /** How long a frame usually takes, in ms. */
  let lag = 0;
  /** When the last frames were shown. @type {number[]} */
  let times = [];
  /** Where the slider is being moved to. @type {number | null} */
  let wanted = null;
  /** Work on the decoder, one after the other. */
  let last = Promise.resolve();

  function clipFrame() {
    const { reel, current } = store.get();
    const frame = reel.find((it) => it.id === current);
    return frame?.clip ? { ...frame, clip: frame.clip } : null;
  }

  /** @param {() => Promise<void>} work */
  function queue(work) {
    last = last.then(work).catch((error) => {
      store.set({ moving: "no" });
      onproblem(error);
    });
    return last;
  }

  function idlest() {
    while (workers.length < WORKERS) workers.push({ bridge: new Bridge(core), pending: 0 });
    const pending = workers.reduce((sum, worker) => sum + worker.pending, 0);
    // One more than there are workers, so that none has to wait for the next frame.
    if (pending > WORKERS) return null;
    return workers.reduce((least, worker) => (worker.pending < least.pending ? worker : least));
  }

  /** @param {Size} whole */
  function sizeNow(whole) {
    const box = placed(store.get().view, whole, picture.room());
    const full = previewSize(whole, box, picture.density(), PREVIEW_MOST);
    const part = Number(SIZES[pace.level]);
    return { width: Math.max(1, Math.round(full.width * part)), height: Math.max(1, Math.round(full.height * part)) };
  }

  /**
   * Renders the frame that the decoder shows, if a worker can take it.
   * @param {string} id
   * @param {Decoder} decoder
   * @param {number} at the frame's number
   * @returns {Promise<void> | null}
   */
  function render(id, decoder, at) {
    const worker = idlest();
    if (!worker) return null;
    const { view, history } = store.get();
    const size = sizeNow(decoder.size);
    const pixels = decoder.pixels(size);
    /** @type {Asked<"clipFrame">["sides"]} */
    const sides = {};
    if (view.wipe < 1) sides.after = view.after;
    if (view.wipe > 0) sides.before = view.before;
    const before = showing;
    const begin = performance.now();
    const asked = { settings: renderSettings(history.present, id), sides, ...size, full: decoder.size, pixels, number: at };
    worker.pending += 1;
    const show = async () => {
      const made = await worker.bridge.ask("clipFrame", asked, { transfer: [pixels.buffer] }).finally(() => {
        worker.pending -= 1;
      });
      const took = performance.now() - begin;
      pace = came(pace, took);
      // Frames that are early wait, so that all follow each other evenly.
      lag = lag === 0 ? took : lag + (took - lag) * LAG_GAIN;
      const early = Math.min(lag * LAG_ROOM, lag + LAG_ROOM_MOST) - took;
      if (playing && early > 1) await new Promise((resolve) => setTimeout(resolve, early));
      await before;
      if (store.get().moving === "no" || store.get().current !== id) return;
      number = at;
      for (const side of /** @type {SideName[]} */ (["before", "after"])) {
        const picked = made[side];
        if (picked) picture.show(side, picked);
      }
    };
    const work = show();
    showing = work.catch(() => {});
    return work;
  }

  /** @param {number} rate @param {number} every */
  function tell(rate, every) {
    const now = performance.now();
    times = [...times.filter((time) => now - time < 1000), now];
    const clip = clipFrame()?.clip;
    if (!clip) return;
    const since = now - Number(times[0]);
    const persecond = times.length > 3 && since > 300 ? ((times.length - 1) * 1000) / since : rate / every;
    const words = every > 1 ? `every 2nd of ${Math.round(rate)} frames/s` : paceWords(persecond, rate, pace.level);
    transport.show(number, clip, words);
  }

  async function play() {
    const frame = clipFrame();
    if (!frame || playing) return;
    const decoder = await frames.decoder(frame);
    if (clipFrame()?.id !== frame.id) return;
    const { rate } = decoder;
    const every = rate > RATE_MOST ? 2 : 1;
    [number, times, lag] = [frame.clip.number, [], 0];
    pace = beginPace(pace.level);
    await decoder.seek(number >= decoder.frames - 1 ? 0 : number);
    const stop = decoder.follow((at) => {
      if (at % every !== 0) return;
      const work = render(frame.id, decoder, at);
      pace = offered(pace, work !== null, (1000 * every) / rate, WORKERS);
      work?.then(() => tell(rate, every)).catch(onproblem);
    });
    playing = { id: frame.id, decoder, stop };
    store.set({ moving: "playing" });
    await decoder.video.play();
  }

  /**
   * Brings the clip to rest on a frame, by default on the one that is shown.
   * @param {number} [at]
   */
  async function rest(at = wanted ?? number) {
    const frame = clipFrame();
    const was = playing;
    playing = null;
    was?.stop();
    was?.decoder.video.pause();
    if (frame && (!was || was.id === frame.id)) await frames.showStill(frame.id, at);
    wanted = null;
    store.set({ moving: "no" });
  }

  async function scrub() {
    const frame = clipFrame();
    if (!frame || wanted === null) return;
    if (playing) {
      playing.stop();
      playing.decoder.video.pause();
      playing = null;
    }
    const decoder = await frames.decoder(frame);
    const at = wanted;
    await decoder.seek(at);
    await render(frame.id, decoder, at);
  }

  const isPlaying = () => store.get().moving === "playing";

  store.subscribe(({ current }) => {
    if (playing && playing.id !== current) queue(rest);
  });

  return {
    toggle: () => queue(() => (isPlaying() ? rest() : play())),
    /** Pauses if it plays. */
    pause: () => (isPlaying() ? queue(rest) : last),
    /** @param {number} by frames */
    step(by) {
      return queue(() => {
        const clip = clipFrame()?.clip;
        if (!clip) return Promise.resolve();
        const from = isPlaying() ? number : clip.number;
        return rest((from + by + clip.frames) % clip.frames);
      });
    },
    /** While the slider moves. @param {number} at */
    scrub(at) {
      const idle = wanted === null || store.get().moving !== "scrubbing";
      wanted = at;
      store.set({ moving: "scrubbing" });
      if (!idle) return;
      queue(async () => {
        for (let done = -1; wanted !== null && wanted !== done; ) {
          done = wanted;
          await scrub();
        }
      });
    },
    /** The slider was let go. @param {number} at */
    settle: (at) => queue(() => rest(at)),
    hasClip: () => clipFrame() !== null,
  };
}
