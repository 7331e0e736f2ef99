/**
 * The frames of a clip in their order: decoded one after the other by WebCodecs where that can be, else by
 * going from frame to frame of a video element.
 */

/** @import { Size } from "../../types.js" */
/** @import { InputVideoTrack } from "mediabunny" */

import { BlobSource, Input, MATROSKA, MP4, QTFF, VideoSampleSink, WEBM } from "mediabunny";
import { openDecoder } from "./decoder.js";

/** timestamp, duration: in seconds. @typedef {{ pixels: Uint8ClampedArray<ArrayBuffer>, number: number, timestamp: number, duration: number }} ClipFrame */

/** @param {Blob} file */
export const openClip = (file) => new Input({ formats: [MP4, QTFF, MATROSKA, WEBM], source: new BlobSource(file) });

/**
 * The track of pictures, if it can be decoded frame by frame.
 * @param {Input} input
 * @returns {Promise<InputVideoTrack | null>}
 */
export async function decodable(input) {
  try {
    const track = await input.getPrimaryVideoTrack();
    return track && (await track.canDecode()) ? track : null;
  } catch {
    // A kind of file that it does not know; the browser may.
    return null;
  }
}

/**
 * @param {{ file: Blob, track: InputVideoTrack | null, rate: number, size: Size, from?: number, near?: number }} clip
 *   rate: frames per second, where they have to be sought; size: that they are drawn at; from: the first
 *   number, counted from 0; near: where to begin in seconds, where numbers may be one off
 * @returns {AsyncGenerator<ClipFrame, void>}
 */
export async function* clipFrames({ file, track, rate, size, from = 0, near = 0 }) {
  const begin = Math.round(near * rate);
  if (!track) return yield* soughtFrames({ file, rate, size, from: Math.max(from, begin) });
  const canvas = new OffscreenCanvas(size.width, size.height);
  const context = canvas.getContext("2d", { willReadFrequently: true, alpha: false });
  if (!context) throw new Error("The browser gives no more room for pictures; close other pages and go on.");
  let number = begin;
  for await (const sample of new VideoSampleSink(track).samples(near > 0 ? near : undefined)) {
    const { timestamp, duration } = sample;
    if (number >= from) sample.draw(context, 0, 0, size.width, size.height);
    sample.close();
    if (number >= from) yield { pixels: context.getImageData(0, 0, size.width, size.height).data, number, timestamp, duration };
    number += 1;
  }
}

/**
 * @param {{ file: Blob, rate: number, size: Size, from: number }} clip
 * @returns {AsyncGenerator<ClipFrame, void>}
 */
async function* soughtFrames({ file, rate, size, from }) {
  const decoder = await openDecoder(file, rate);
  try {
    for (let number = from; number < decoder.frames; number += 1) {
      await decoder.seek(number);
      yield { pixels: decoder.pixels(size), number, timestamp: number / rate, duration: 1 / rate };
    }
  } finally {
    decoder.close();
  }
}
