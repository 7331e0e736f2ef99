/** Animated WebP put together from single pictures (RFC 9649, sections 2.5 to 2.7). */

/** @typedef {{ kind: string, bytes: Uint8Array }} Chunk */

/** Flags of the extended header. */
const ALPHA = 0x10;
const ANIMATION = 0x02;

/**
 * @param {Uint8Array[]} files WebP, all of one size
 * @param {{ width: number, height: number, durations: number[] }} how durations: of each picture, in ms
 * @returns {Uint8Array<ArrayBuffer>} a file that begins anew for ever; throws if a file is no WebP
 */
export function animated(files, { width, height, durations }) {
  const header = new Uint8Array(10);
  header[0] = ANIMATION;
  put24(header, 4, width - 1);
  put24(header, 7, height - 1);
  /** @type {Chunk[]} */
  const chunks = [{ kind: "VP8X", bytes: header }, { kind: "ANIM", bytes: new Uint8Array(6) }];
  files.forEach((file, i) => {
    const image = chunksOf(file).filter(({ kind }) => kind === "ALPH" || kind === "VP8 " || kind === "VP8L");
    if (image.some(({ kind }) => kind !== "VP8 ")) header[0] = ANIMATION | ALPHA;
    const frame = new Uint8Array(16);
    put24(frame, 6, width - 1);
    put24(frame, 9, height - 1);
    put24(frame, 12, durations[i] ?? 100);
    // Each covers the one before whole: not blended.
    frame[15] = 0x02;
    chunks.push({ kind: "ANMF", bytes: joined([frame, ...image.map(written)]) });
  });
  const body = joined(chunks.map(written));
  return joined([letters("RIFF"), length(body.length + 4), letters("WEBP"), body]);
}

/** @param {Uint8Array} file @returns {Chunk[]} */
export function chunksOf(file) {
  const text = (/** @type {number} */ at) => String.fromCharCode(...file.subarray(at, at + 4));
  if (text(0) !== "RIFF" || text(8) !== "WEBP") throw new Error("The browser did not write WebP.");
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  /** @type {Chunk[]} */
  const chunks = [];
  for (let at = 12; at + 8 <= file.length; ) {
    const size = view.getUint32(at + 4, true);
    chunks.push({ kind: text(at), bytes: file.subarray(at + 8, at + 8 + size) });
    at += 8 + size + (size % 2);
  }
  return chunks;
}

/** @param {Chunk} chunk */
function written({ kind, bytes }) {
  return joined([letters(kind), length(bytes.length), bytes, new Uint8Array(bytes.length % 2)]);
}

/** @param {string} text */
const letters = (text) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));

/** @param {number} count */
function length(count) {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, count, true);
  return bytes;
}

/** @param {Uint8Array} bytes @param {number} at @param {number} value */
function put24(bytes, at, value) {
  bytes.set([value & 255, (value >> 8) & 255, (value >> 16) & 255], at);
}

/** @param {Uint8Array[]} parts */
function joined(parts) {
  const whole = new Uint8Array(parts.reduce((sum, { length: count }) => sum + count, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
