/** About how many bytes a clip's file will take: some frames in a row are encoded at a small size. */

/** @import { Shown, Size } from "../../types.js" */
/** @import { ClipFrame } from "./decoded.js" */

import { NullTarget, Output, canEncodeVideo } from "mediabunny";
import { evenSize } from "../pure/clips/video-code.js";
import { savedSize } from "../pure/save/size.js";
import { clipFrames, openClip } from "./decoded.js";
import { KEY_EVERY, addPicture, formatOf, pictureSource, planned } from "./saved.js";

/** The longer side of the frames that are tried, in pixels, and how many are, from the clip's middle on. */
const TRIED = 640;
const MOST = 16;
/** How many packets of sound are looked at. */
const HEARD = 200;

/**
 * @param {{ file: Blob, full: Size, rate: number, frames: number, side: number, quality: number,
 *   render: (frame: ClipFrame & Size) => Promise<Shown>, live: () => boolean }} clip as it would be saved
 * @returns {Promise<number | null>} null if it can't be encoded here, or nobody waits any more
 */
export async function clipBytes({ file, full, rate, frames, side, quality, render, live }) {
  const input = openClip(file);
  /** @type {Output | null} */
  let output = null;
  try {
    const { track, audio, size, kind } = await planned(input, full, side);
    if (!kind) return null;
    const less = savedSize(size, TRIED);
    const small = (await canEncodeVideo(kind.codec, evenSize(less))) ? less : size;

    /** Bytes of frames that a player can jump to, and of those between them. @type {{ key: number[], delta: number[] }} */
    const bytes = { key: [], delta: [] };
    const pictures = pictureSource(kind, quality, ({ type, byteLength }) => void bytes[type].push(byteLength));
    output = new Output({ format: formatOf(kind), target: new NullTarget() });
    output.addVideoTrack(pictures);
    await output.start();
    const count = Math.min(MOST, frames);
    let done = 0;
    for await (const frame of clipFrames({ file, track, rate, size: small, near: Math.floor((frames - count) / 2) / rate })) {
      if (!live()) return null;
      await addPicture(pictures, await render({ ...frame, ...small }), { timestamp: done / rate, duration: 1 / rate });
      done += 1;
      if (done === count) break;
    }
    pictures.close();
    await output.finalize();

    const mean = (/** @type {number[]} */ all) => all.reduce((sum, it) => sum + it, 0) / all.length;
    if (bytes.key.length === 0) return null;
    const jumps = Math.min(frames, Math.ceil(frames / (KEY_EVERY * rate)));
    const between = bytes.delta.length > 0 ? mean(bytes.delta) : mean(bytes.key);
    const area = (size.width * size.height) / (small.width * small.height);
    const heard = kind.sound && audio ? ((await audio.computePacketStats(HEARD)).averageBitrate * frames) / rate / 8 : 0;
    return Math.round((jumps * mean(bytes.key) + (frames - jumps) * between) * area + heard);
  } finally {
    if (output?.state !== "finalized") await output?.cancel().catch(() => {});
    input.dispose();
  }
}
