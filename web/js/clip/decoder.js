/** A clip that the browser decodes: its frames by number, at any size. */

/** @import { ClipFrames, Size } from "../../types.js" */

/** @typedef {Awaited<ReturnType<typeof openDecoder>>} Decoder */

const UNDECODED =
  "this browser can't decode the clip; export it as H.264 MP4, or as an image sequence, which the command line renders.";
const NAMES = /\.(mp4|m4v|mov|webm|mkv|ogv|avi|mpe?g|m2ts|mts|mxf|3gp|wmv)$/i;

/** How long is waited for a frame that may be there already, in ms. */
const FRAME_WAIT = 150;
/** How many frame times the rate is taken from, and how long for at most, in ms. */
const RATE_FRAMES = 9;
const RATE_WAIT = 1500;
/** Rates that clips have; what is near one of them is that one. */
const RATES = [12, 15, 24000 / 1001, 24, 25, 30000 / 1001, 30, 48, 50, 60000 / 1001, 60];
const USUAL_RATE = 25;

/** @param {File} file */
export const isClip = (file) => file.type.startsWith("video/") || (!file.type && NAMES.test(file.name)) || NAMES.test(file.name);

/**
 * Opens a clip's file.
 * @param {Blob} file
 * @param {number} [known] frames per second, if they have been found out before
 */
export async function openDecoder(file, known) {
  const url = URL.createObjectURL(file);
  const video = document.createElement("video");
  Object.assign(video, { muted: true, loop: true, playsInline: true, preload: "auto", src: url });
  const canvas = new OffscreenCanvas(1, 1);
  const context = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d", { willReadFrequently: true, alpha: false }));

  function close() {
    video.removeAttribute("src");
    video.load();
    URL.revokeObjectURL(url);
  }

  /** @type {number} */
  let rate;
  try {
    await loaded(video);
    await knowDuration(video);
    if (video.videoWidth === 0) throw new Error(UNDECODED);
    rate = known ?? (await rateOf(file, video));
  } catch (error) {
    close();
    throw error;
  }
  const frames = Math.max(1, Math.round(video.duration * rate));
  const numberAt = (/** @type {number} */ seconds) => Math.min(frames - 1, Math.max(0, Math.round(seconds * rate)));

  return {
    video,
    close,
    rate,
    frames,
    size: { width: video.videoWidth, height: video.videoHeight },
    /** @param {number} number */
    async seek(number) {
      const seconds = (number + 0.5) / rate;
      const there = new Promise((resolve) => video.addEventListener("seeked", resolve, { once: true }));
      video.currentTime = Math.min(seconds, Math.max(0, video.duration - 0.001));
      const frame = nextFrame(video, FRAME_WAIT * 4);
      await there;
      await Promise.race([frame, rest(FRAME_WAIT)]);
    },
    /**
     * Calls `take` with every frame's number until it is stopped.
     * @param {(number: number) => void} take
     * @returns {() => void} stops it
     */
    follow: (take) => follow(video, (seconds) => take(numberAt(seconds))),
    /**
     * The frame that the video shows, as RGBA.
     * @param {Size} size
     */
    pixels({ width, height }) {
      if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
      context.drawImage(video, 0, 0, width, height);
      return context.getImageData(0, 0, width, height).data;
    },
  };
}

/**
 * The frame of a clip as a PNG, for what takes pictures.
 * @param {Blob} file
 * @param {ClipFrames} clip
 * @returns {Promise<Blob>}
 */
export async function stillFile(file, { rate, number }) {
  const decoder = await openDecoder(file, rate);
  try {
    await decoder.seek(number);
    const { width, height } = decoder.size;
    const canvas = new OffscreenCanvas(width, height);
    const pixels = decoder.pixels(decoder.size);
    canvas.getContext("2d")?.putImageData(new ImageData(pixels, width, height), 0, 0);
    return await canvas.convertToBlob({ type: "image/png" });
  } finally {
    decoder.close();
  }
}

/** @param {HTMLVideoElement} video */
function loaded(video) {
  return new Promise((resolve, reject) => {
    video.addEventListener("loadeddata", resolve, { once: true });
    video.addEventListener("error", () => reject(new Error(UNDECODED)), { once: true });
  });
}

/**
 * Clips that were recorded as they went don't say how long they are until their end was looked for.
 * @param {HTMLVideoElement} video
 */
async function knowDuration(video) {
  if (Number.isFinite(video.duration)) return;
  const found = new Promise((resolve) => {
    video.addEventListener("durationchange", () => Number.isFinite(video.duration) && resolve(null));
  });
  video.currentTime = 1e7;
  await Promise.race([found, rest(10_000)]);
  if (!Number.isFinite(video.duration)) throw new Error("the clip does not say how long it is; export it as H.264 MP4.");
  const back = new Promise((resolve) => video.addEventListener("seeked", resolve, { once: true }));
  video.currentTime = 0;
  await back;
}

/**
 * Frames per second: as the file says, else as it plays.
 * @param {Blob} file
 * @param {HTMLVideoElement} video
 */
async function rateOf(file, video) {
  // What reads it may be out of reach.
  const stated = await import("./media.js").then(({ statedRate }) => statedRate(file)).catch(() => null);
  const rate = stated ?? (await measuredRate(video));
  if (rate === null) return USUAL_RATE;
  const near = RATES.map((usual) => ({ usual, off: Math.abs(rate / usual - 1) })).sort((a, b) => a.off - b.off)[0];
  return near && near.off < 0.04 ? near.usual : Math.min(120, Math.max(1, Math.round(rate)));
}

/**
 * Frames per second, from playing the beginning.
 * @param {HTMLVideoElement} video
 * @returns {Promise<number | null>}
 */
async function measuredRate(video) {
  /** @type {number[]} */
  const times = [];
  const enough = new Promise((resolve) => {
    const stop = follow(video, (seconds) => {
      if (times.at(-1) !== seconds) times.push(seconds);
      if (times.length >= RATE_FRAMES) resolve(stop());
    });
    setTimeout(() => resolve(stop()), RATE_WAIT);
  });
  await video.play().catch(() => {});
  await enough;
  video.pause();
  const steps = times.slice(1).map((time, i) => time - Number(times[i])).filter((step) => step > 0.001);
  // Frames may have been missed, but none can have come too soon, but for rounding to milliseconds.
  steps.sort((a, b) => a - b);
  const shortest = steps[Math.floor(steps.length / 4)];
  return shortest ? 1 / shortest : null;
}

/**
 * @param {HTMLVideoElement} video
 * @param {(seconds: number) => void} take
 * @returns {() => void}
 */
function follow(video, take) {
  let on = true;
  let last = -1;
  const ask = () => {
    if ("requestVideoFrameCallback" in video) video.requestVideoFrameCallback((_, { mediaTime }) => step(mediaTime));
    else requestAnimationFrame(() => step(/** @type {HTMLVideoElement} */ (video).currentTime));
  };
  const step = (/** @type {number} */ seconds) => {
    if (!on) return;
    ask();
    if (seconds !== last) take(seconds);
    last = seconds;
  };
  ask();
  return () => {
    on = false;
  };
}

/**
 * @param {HTMLVideoElement} video
 * @param {number} limit ms
 */
function nextFrame(video, limit) {
  if (!("requestVideoFrameCallback" in video)) return rest(FRAME_WAIT);
  return Promise.race([new Promise((resolve) => video.requestVideoFrameCallback(resolve)), rest(limit)]);
}

/** @param {number} ms */
const rest = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
