/** Plays the current clip through the look. At rest the frame is a picture like any other. */

/** @import { Core } from "../../types.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Picture } from "../ui/picture/picture.js" */
/** @import { Transport } from "../ui/transport.js" */
/** @import { Decoder } from "./decoder.js" */

import { createMovingPicture } from "./moving.js";

/** @typedef {ReturnType<typeof createPlayer>} Player */

/** Clips of more frames per second are played by every second one. */
const RATE_MOST = 31;

/**
 * @param {{ core: Core, store: Store, frames: Frames, picture: Picture,
 *   transport: Transport, onproblem: (error: unknown) => void }} wiring
 */
export function createPlayer({ core, store, frames, picture, transport, onproblem }) {
  const moving = createMovingPicture({ core, store, picture });
  /** What is playing. @type {{ id: string, decoder: Decoder, stop: () => void } | null} */
  let playing = null;
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

  /** Stops what plays, and gives what that was. */
  function stop() {
    const was = playing;
    playing = null;
    was?.stop();
    was?.decoder.video.pause();
    return was;
  }

  /** @param {number} rate @param {number} every */
  function tell(rate, every) {
    const clip = clipFrame()?.clip;
    if (clip) transport.show(moving.number(), clip, every > 1 ? `every 2nd of ${Math.round(rate)} frames/s` : moving.words(rate));
  }

  async function play() {
    const frame = clipFrame();
    if (!frame || playing) return;
    const decoder = await frames.decoder(frame);
    if (clipFrame()?.id !== frame.id) return;
    const { rate } = decoder;
    const every = rate > RATE_MOST ? 2 : 1;
    const { number } = frame.clip;
    moving.begin(number);
    await decoder.seek(number >= decoder.frames - 1 ? 0 : number);
    const end = decoder.follow((at) => {
      if (at % every !== 0) return;
      const shown = moving.play(frame.id, decoder, at, (1000 * every) / rate);
      shown?.then(() => tell(rate, every)).catch(onproblem);
    });
    playing = { id: frame.id, decoder, stop: end };
    store.set({ moving: "playing" });
    await decoder.video.play();
  }

  /**
   * Brings the clip to rest on a frame, by default on the one that is shown.
   * @param {number} [at]
   */
  async function rest(at = wanted ?? moving.number()) {
    const frame = clipFrame();
    const was = stop();
    if (frame && (!was || was.id === frame.id)) await frames.showStill(frame.id, at);
    wanted = null;
    store.set({ moving: "no" });
  }

  /** @param {number} at */
  async function scrubTo(at) {
    const frame = clipFrame();
    if (!frame) return;
    stop();
    const decoder = await frames.decoder(frame);
    await decoder.seek(at);
    await moving.render(frame.id, decoder, at);
  }

  /** Goes after the slider until it is where the slider is. */
  async function follow() {
    for (let done = -1; wanted !== null && wanted !== done; ) {
      done = wanted;
      await scrubTo(done);
    }
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
        const from = isPlaying() ? moving.number() : clip.number;
        return rest((from + by + clip.frames) % clip.frames);
      });
    },
    /** While the slider moves. @param {number} at */
    scrub(at) {
      const idle = wanted === null || store.get().moving !== "scrubbing";
      wanted = at;
      store.set({ moving: "scrubbing" });
      if (idle) queue(follow);
    },
    /** The slider was let go. @param {number} at */
    settle: (at) => queue(() => rest(at)),
    hasClip: () => clipFrame() !== null,
  };
}
