/**
 * What a camera wrote into a photo, taken over into the JPEG that is made of it. JPEG's markers: ITU-T T.81,
 * annex B; the block: CIPA DC-008 (Exif 2.32), 4.5 and 4.7; its entries: TIFF 6.0, section 2.
 */

const EXIF = [0x45, 0x78, 0x69, 0x66, 0, 0];
const SOI = 0xd8;
const SOS = 0xda;
const APP0 = 0xe0;
const APP1 = 0xe1;
/** Which way up the picture is; where an embedded small picture lies. */
const ORIENTATION = 0x0112;
/** Where the directory of the place lies; its first entry, the version, which has to be there. */
const PLACE = 0x8825;
const VERSION = [2, 3, 0, 0];
const BYTE = 1;
/** Bytes of a value of each type, from type 1 on (TIFF 6.0, section 2; Exif 2.32 adds none). */
const TYPE_BYTES = [1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8];

/**
 * @typedef {{ marker: number, start: number, end: number }} Segment with its marker
 * @param {Uint8Array} bytes of a JPEG
 * @returns {Segment[]} up to the picture's data; none if it is no JPEG
 */
function segments(bytes) {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return [];
  const found = [];
  for (let at = 2; at + 4 <= bytes.length && bytes[at] === 0xff; ) {
    const marker = bytes[at + 1] ?? 0;
    if (marker === SOS) break;
    const end = at + 2 + ((bytes[at + 2] ?? 0) << 8) + (bytes[at + 3] ?? 0);
    if (end > bytes.length || end < at + 4) break;
    found.push({ marker, start: at, end });
    at = end;
  }
  return found;
}

/** @param {Uint8Array} bytes @param {Segment} segment */
const isExif = (bytes, { marker, start }) => marker === APP1 && EXIF.every((byte, i) => bytes[start + 4 + i] === byte);

/**
 * @param {Uint8Array} bytes of a file; its beginning is enough
 * @returns {Uint8Array | null} the segment with its marker, null if it is no JPEG or has none
 */
export function exifOf(bytes) {
  const found = segments(bytes).find((segment) => isExif(bytes, segment));
  return found ? bytes.slice(found.start, found.end) : null;
}

/** The first directory of a block, as far as it can be read. @param {Uint8Array} exif a segment */
function directory(exif) {
  const start = 4 + EXIF.length;
  const view = new DataView(exif.buffer, exif.byteOffset + start, Math.max(0, exif.length - start));
  if (view.byteLength < 8) return null;
  const little = view.getUint16(0) === 0x4949;
  const entries = entriesAt(view, view.getUint32(4, little), little);
  return entries && { view, little, entries };
}

/**
 * @param {DataView} view
 * @param {number} first where a directory begins
 * @param {boolean} little
 * @returns {{ at: number[], end: number } | null} where its entries are, and where they end
 */
function entriesAt(view, first, little) {
  if (first + 2 > view.byteLength) return null;
  const count = view.getUint16(first, little);
  const end = first + 2 + 12 * count;
  return end + 4 > view.byteLength ? null : { at: Array.from({ length: count }, (_, i) => first + 2 + 12 * i), end };
}

/**
 * The same for a picture whose pixels stand upright by now, without the small picture, which is not
 * this one.
 * @param {Uint8Array} exif a segment
 * @returns {Uint8Array} of the same length; as it is if it can't be read
 */
export function upright(exif) {
  const block = exif.slice();
  const found = directory(block);
  if (!found) return block;
  const { view, little, entries } = found;
  for (const at of entries.at) if (view.getUint16(at, little) === ORIENTATION) view.setUint16(at + 8, 1, little);
  // The second directory is the small picture's.
  view.setUint32(entries.end, 0, little);
  return block;
}

/**
 * The same without where the photo was taken.
 * @param {Uint8Array} exif a segment
 * @returns {Uint8Array} of the same length; as it is if it can't be read
 */
export function withoutPlace(exif) {
  const block = exif.slice();
  const found = directory(block);
  if (!found) return block;
  const { view, little, entries } = found;
  for (const at of entries.at) if (view.getUint16(at, little) === PLACE) emptyPlace(view, view.getUint32(at + 8, little), little);
  return block;
}

/**
 * @param {DataView} view
 * @param {number} first where the directory begins
 * @param {boolean} little
 */
function emptyPlace(view, first, little) {
  const entries = entriesAt(view, first, little);
  if (!entries || entries.at.length === 0) return;
  const blank = (/** @type {number} */ from, /** @type {number} */ end) => {
    for (let at = from; at < Math.min(end, view.byteLength); at += 1) view.setUint8(at, 0);
  };
  for (const at of entries.at) {
    const bytes = (TYPE_BYTES[view.getUint16(at + 2, little) - 1] ?? 1) * view.getUint32(at + 4, little);
    // What does not fit its entry lies elsewhere.
    if (bytes > 4) blank(view.getUint32(at + 8, little), view.getUint32(at + 8, little) + bytes);
  }
  blank(first, entries.end);
  view.setUint16(first, 1, little);
  view.setUint16(first + 4, BYTE, little);
  view.setUint32(first + 6, VERSION.length, little);
  VERSION.forEach((byte, i) => view.setUint8(first + 10 + i, byte));
}

/**
 * @param {Uint8Array<ArrayBuffer>} jpeg
 * @param {Uint8Array} exif a segment
 * @returns {Uint8Array<ArrayBuffer>} the JPEG with it, in place of one that it has
 */
export function withExif(jpeg, exif) {
  const all = segments(jpeg);
  if (all.length === 0) return jpeg;
  const old = all.find((segment) => isExif(jpeg, segment));
  const bare = old ? joined(jpeg.subarray(0, old.start), jpeg.subarray(old.end)) : jpeg;
  // Behind a JFIF header, before everything else.
  const [head] = segments(bare);
  const at = head?.marker === APP0 ? head.end : 2;
  return joined(bare.subarray(0, at), exif, bare.subarray(at));
}

/** @param {...Uint8Array} parts @returns {Uint8Array<ArrayBuffer>} */
function joined(...parts) {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
