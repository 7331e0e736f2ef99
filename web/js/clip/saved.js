/**
 * A clip through the look, as a clip: every frame rendered exactly and encoded by the browser (WebCodecs),
 * the sound taken over as it is, the file written as it comes. Mediabunny reads and writes the files.
 */

/** @import { Shown, Size } from "../../types.js" */
/** @import { ClipKind, VideoCodec } from "../pure/clips/containers.js" */
/** @import { ClipFrame } from "./decoded.js" */
/** @import { EncodedPacket, Input, InputAudioTrack } from "mediabunny" */

import { EncodedAudioPacketSource, EncodedPacketSink, Mp4OutputFormat, Output, Quality, StreamTarget, VideoSample, VideoSampleSource, WebMOutputFormat, canEncodeVideo } from "mediabunny";
import { Superseded } from "../bridge/bridge.js";
import { CODECS, CODEC_NAMES, clipKind } from "../pure/clips/containers.js";
import { evenSize, videoCode } from "../pure/clips/video-code.js";
import { savedSize } from "../pure/save/size.js";
import { clipFrames, decodable, openClip } from "./decoded.js";

/** Said where there is no way. */
const CANT_ENCODE = "This browser can't encode clips; save its frames instead, which editors read as a sequence.";
/** The quality of a JPEG that goes with the encoder's best, 1, and the one that goes with its middle, 0.5. */
const [BEST, MEDIUM] = [92, 50];
/** How far apart frames are that a player can jump to, in seconds (common practice, no source). */
export const KEY_EVERY = 2;
/** What frames are said to be, and are: ITU-T H.273, code point 1 of each. */
const REC709 = /** @type {const} */ ({ primaries: "bt709", transfer: "bt709", matrix: "bt709", fullRange: false });
const CONTAINERS = { mp4: "MP4", webm: "WebM" };

/**
 * What a clip of this size and sound would become here.
 * @param {Size} size
 * @param {string | null} sound its codec
 * @returns {Promise<ClipKind | null>}
 */
async function kindFor(size, sound) {
  if (!("VideoEncoder" in globalThis)) return null;
  /** @type {VideoCodec[]} */
  const encodable = [];
  for (const codec of CODECS) if (await canEncodeVideo(codec, size).catch(() => false)) encodable.push(codec);
  const mp4 = new Mp4OutputFormat().getSupportedCodecs();
  return clipKind(encodable, sound, (codec) => mp4.some((it) => it === codec));
}

/**
 * What is in a clip, and what it becomes here.
 * @param {Input} input
 * @param {Size} full
 * @param {number} side the longer side in pixels; 0: as it is
 */
export async function planned(input, full, side) {
  const track = await decodable(input);
  const audio = await input.getPrimaryAudioTrack().catch(() => null);
  const sound = (await audio?.getCodec()) ?? null;
  const size = savedSize(full, side);
  const kind = await kindFor(evenSize(size), audio ? (sound ?? "unknown") : null);
  return { track, audio, sound, size, kind };
}

/** @param {ClipKind} kind */
export const formatOf = ({ container }) => (container === "mp4" ? new Mp4OutputFormat() : new WebMOutputFormat());

/**
 * @param {ClipKind} kind
 * @param {number} quality as a JPEG's
 * @param {(packet: EncodedPacket) => void} [onEncodedPacket]
 */
export function pictureSource({ codec }, quality, onEncodedPacket) {
  const level = Math.min(1, Math.max(0, 0.5 + (0.5 * (quality - MEDIUM)) / (BEST - MEDIUM)));
  return new VideoSampleSource({ codec, quality: new Quality(level), keyFrameInterval: KEY_EVERY, ...(onEncodedPacket ? { onEncodedPacket } : {}) });
}

/**
 * @param {VideoSampleSource} source
 * @param {Shown} shown for a screen of Rec.709
 * @param {{ timestamp: number, duration: number }} times in seconds
 */
export async function addPicture(source, { pixels, width, height }, times) {
  const even = evenSize({ width, height });
  const sample = new VideoSample(videoCode(pixels, { width, height }), { format: "I420", codedWidth: even.width, codedHeight: even.height, ...times, colorSpace: REC709 });
  try {
    await source.add(sample);
  } finally {
    sample.close();
  }
}

/**
 * Where a file is written as it comes.
 * @typedef {object} Sink
 * @property {(data: Uint8Array<ArrayBuffer>, position: number) => Promise<void>} write rejects with one sentence
 * @property {() => Promise<string>} close gives the name that it has there
 * @property {() => Promise<void>} abort nothing of it is left
 */

/**
 * @param {object} wish
 * @param {Blob} wish.file
 * @param {Size} wish.full
 * @param {number} wish.rate frames per second
 * @param {number} wish.frames how many
 * @param {number} wish.side the longer side in pixels; 0: as it is
 * @param {number} wish.quality as a JPEG's
 * @param {(frame: ClipFrame & Size) => Promise<Shown>} wish.render for a screen of Rec.709
 * @param {number} wish.ahead how many frames are rendered at a time
 * @param {(share: number) => void} wish.tell
 * @param {() => boolean} wish.live whether anybody still waits
 * @param {(extension: string) => Promise<Sink>} wish.open
 * @returns {Promise<{ name: string, note: string }>} note: what it became; rejects with one sentence
 */
export async function savedClip({ file, full, rate, frames, side, quality, render, ahead, tell, live, open }) {
  const input = openClip(file);
  /** @type {Sink | null} */
  let sink = null;
  /** Why the file could not be written on. @type {unknown} */
  let unwritten = null;
  /** @type {Output | null} */
  let output = null;
  try {
    const { track, audio, sound, size, kind } = await planned(input, full, side);
    if (!kind) throw new Error(CANT_ENCODE);

    const written = await open(kind.container);
    sink = written;
    const stream = new WritableStream({
      async write(/** @type {{ data: Uint8Array<ArrayBuffer>, position: number }} */ { data, position }) {
        await written.write(data, position).catch((error) => {
          unwritten ??= error;
          throw error;
        });
      },
    });
    output = new Output({ format: formatOf(kind), target: new StreamTarget(stream, { chunked: true }) });
    const pictures = pictureSource(kind, quality);
    output.addVideoTrack(pictures);
    const heard = kind.sound && audio && sound ? { track: audio, source: new EncodedAudioPacketSource(sound) } : null;
    if (heard) output.addAudioTrack(heard.source);
    // What begins before the clip's time does is moved to its beginning, with all the rest.
    const shift = Math.max(0, -((await track?.getFirstTimestamp()) ?? 0), -((await heard?.track.getFirstTimestamp()) ?? 0));
    await output.start();

    /** @type {(ClipFrame & { shown: Promise<Shown> })[]} */
    const coming = [];
    let done = 0;
    const encodeNext = async () => {
      const next = coming.shift();
      if (!next) return;
      if (unwritten) throw unwritten;
      await addPicture(pictures, await next.shown, { timestamp: next.timestamp + shift, duration: next.duration });
      done += 1;
      tell(Math.min(1, done / frames));
    };
    const makePictures = async () => {
      for await (const frame of clipFrames({ file, track, rate, size })) {
        if (!live()) throw new Superseded();
        const shown = render({ ...frame, ...size });
        // It is heard of when it is its turn.
        shown.catch(() => {});
        coming.push({ ...frame, shown });
        if (coming.length >= ahead) await encodeNext();
      }
      while (coming.length > 0) await encodeNext();
      pictures.close();
    };
    await Promise.all([heard && copySound(heard, shift, live), makePictures()]);
    await output.finalize();
    const name = await sink.close();
    sink = null;
    const lost = audio && !kind.sound ? `, without its sound: ${sound ?? "its kind"} does not go into ${CONTAINERS[kind.container]}` : "";
    return { name, note: `${CONTAINERS[kind.container]}, ${CODEC_NAMES[kind.codec]}${lost}` };
  } catch (error) {
    await output?.cancel().catch(() => {});
    await sink?.abort().catch(() => {});
    throw unwritten ?? error;
  } finally {
    input.dispose();
  }
}

/**
 * @param {{ track: InputAudioTrack, source: EncodedAudioPacketSource }} heard
 * @param {number} shift seconds
 * @param {() => boolean} live
 */
async function copySound({ track, source }, shift, live) {
  const decoderConfig = await track.getDecoderConfig();
  for await (const packet of new EncodedPacketSink(track).packets()) {
    if (!live()) return;
    await source.add(packet.clone({ timestamp: packet.timestamp + shift }), decoderConfig ? { decoderConfig } : undefined);
  }
  source.close();
}
