/** Which kind of file a clip becomes. */

/** A codec of pictures, as WebCodecs' registry groups them. @typedef {"avc" | "vp9" | "av1" | "vp8"} VideoCodec */
/** @typedef {{ container: "mp4" | "webm", codec: VideoCodec, sound: boolean }} ClipKind sound: whether it is kept */

/** The best first: what most players and editors read. */
export const CODECS = /** @type {const} */ (["avc", "vp9", "av1", "vp8"]);
/** What is said of them. */
export const CODEC_NAMES = { avc: "H.264", vp9: "VP9", av1: "AV1", vp8: "VP8" };
/** What goes into WebM: its container guidelines name these codecs. */
const IN_WEBM = { pictures: ["vp9", "av1", "vp8"], sound: ["opus", "vorbis"] };

/**
 * @param {readonly VideoCodec[]} encodable by this browser
 * @param {string | null} sound the codec of the clip's sound, null if it has none
 * @param {(codec: string) => boolean} inMp4 whether MP4 takes a codec
 * @returns {ClipKind | null} null if this browser can't encode clips
 */
export function clipKind(encodable, sound, inMp4) {
  const kinds = CODECS.filter((codec) => encodable.includes(codec)).flatMap((codec) => {
    const webm = IN_WEBM.pictures.includes(codec);
    const containers = /** @type {("mp4" | "webm")[]} */ ([...(webm ? ["webm"] : []), ...(inMp4(codec) ? ["mp4"] : [])]);
    return containers.map((container) => ({ container, codec, sound: sound !== null && (container === "webm" ? IN_WEBM.sound.includes(sound) : inMp4(sound)) }));
  });
  // Sound first: a clip without it is another clip.
  return kinds.find((kind) => sound === null || kind.sound) ?? kinds[0] ?? null;
}
