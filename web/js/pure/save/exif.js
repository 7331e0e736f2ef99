/**
 * What a camera wrote into a photo, taken over into the JPEG that is made of it. JPEG's markers: ITU-T T.81,
 * annex B; the block: CIPA DC-008 (Exif 2.32), 4.5 and 4.7; its entries: TIFF 6.0, section 2.
 */

const EXIF = [0x45, 0x78, 0x69, 0x66, 0, 0];
const SOI = 0xd8;
const SOS = 0xda;
const APP0 = 0xe0;
const APP1 = 0xe1;
/** Which way up the picture is. */
const ORIENTATION = 0x0112;
/** Where the directories lie of how it was taken, and of where. */
const TAKING = 0x8769;
const PLACE = 0x8825;
/**
 * What goes on of the first directory and of that of the taking: which camera and lens, how and when, by whom. What would tell
 * one device or its owner from others (serial numbers, owner, maker's notes) does not, nor the small picture, which is
 * not this one. The core hands on the same.
 */
const FIRST_KEPT = [0x010f, 0x0110, 0x0132, 0x013b, 0x8298];
const TAKING_KEPT = [
  0x829a, 0x829d, 0x8822, 0x8827, 0x8830, 0x9003, 0x9004, 0x9010, 0x9011, 0x9012, 0x9201, 0x9202, 0x9204, 0x9206, 0x9207, 0x9208, 0x9209,
  0x920a, 0x9290, 0x9291, 0x9292, 0xa403, 0xa405, 0xa432, 0xa433, 0xa434,
];
/** More than any of these entries has, in bytes; and more than a segment may have. */
const MOST_BYTES = 4096;
const MOST_SEGMENT = 0xffff;
const [SHORT, LONG] = [3, 4];
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

/** @typedef {{ tag: number, type: number, count: number, bytes: Uint8Array }} Entry bytes: as they lie in the file */

/**
 * What goes on of a photo's notes, for a picture whose pixels stand upright by now.
 * @param {Uint8Array} exif a segment
 * @param {{ place: boolean }} options place: whether where it was taken goes along
 * @returns {Uint8Array | null} a segment with nothing else in it; null if there is nothing, or it can't be read
 */
export function carried(exif, { place }) {
  const start = 4 + EXIF.length;
  const view = new DataView(exif.buffer, exif.byteOffset + start, Math.max(0, exif.length - start));
  const order = view.byteLength < 8 ? 0 : view.getUint16(0);
  const little = order === 0x4949;
  if ((!little && order !== 0x4d4d) || view.getUint16(2, little) !== 42) return null;
  const all = entriesAt(view, view.getUint32(4, little), little);
  const within = (/** @type {number} */ tag) => {
    const at = all.find((entry) => entry.tag === tag && entry.type === LONG && entry.count === 1);
    return at ? entriesAt(view, new DataView(at.bytes.buffer, at.bytes.byteOffset).getUint32(0, little), little) : [];
  };
  const number = (/** @type {number} */ value, /** @type {number} */ type) => {
    const bytes = new Uint8Array(TYPE_BYTES[type - 1] ?? 0);
    const written = new DataView(bytes.buffer);
    if (type === SHORT) written.setUint16(0, value, little);
    else written.setUint32(0, value, little);
    return bytes;
  };
  const first = all.filter(({ tag }) => FIRST_KEPT.includes(tag));
  const taking = within(TAKING).filter(({ tag }) => TAKING_KEPT.includes(tag));
  const placed = place ? within(PLACE) : [];
  if (first.length + taking.length + placed.length === 0) return null;
  const upright = all.some(({ tag }) => tag === ORIENTATION) ? [{ tag: ORIENTATION, type: SHORT, count: 1, bytes: number(1, SHORT) }] : [];

  const pointers = [taking, placed].filter(({ length }) => length > 0).length;
  const header = 8;
  const takingAt = header + directoryBytes([...first, ...upright], pointers);
  const placedAt = takingAt + (taking.length > 0 ? directoryBytes(taking) : 0);
  const pointer = (/** @type {number} */ tag, /** @type {number} */ at) => ({ tag, type: LONG, count: 1, bytes: number(at, LONG) });
  const main = [...first, ...upright, ...(taking.length > 0 ? [pointer(TAKING, takingAt)] : []), ...(placed.length > 0 ? [pointer(PLACE, placedAt)] : [])];
  const block = joined(
    exif.subarray(start, start + 4),
    number(header, LONG),
    directoryAt(header, main, little),
    ...(taking.length > 0 ? [directoryAt(takingAt, taking, little)] : []),
    ...(placed.length > 0 ? [directoryAt(placedAt, placed, little)] : []),
  );
  const length = 2 + EXIF.length + block.length;
  return length > MOST_SEGMENT ? null : joined(new Uint8Array([0xff, APP1, length >> 8, length & 0xff, ...EXIF]), block);
}

/**
 * @param {DataView} view
 * @param {number} first where a directory begins
 * @param {boolean} little
 * @returns {Entry[]} those that can be read
 */
function entriesAt(view, first, little) {
  if (first + 2 > view.byteLength) return [];
  /** @type {Entry[]} */
  const found = [];
  for (let i = 0, at = first + 2; i < view.getUint16(first, little) && at + 12 <= view.byteLength; i += 1, at += 12) {
    const [tag, type, count] = [view.getUint16(at, little), view.getUint16(at + 2, little), view.getUint32(at + 4, little)];
    const size = (TYPE_BYTES[type - 1] ?? 0) * count;
    // What does not fit its entry lies elsewhere.
    const from = size > 4 ? view.getUint32(at + 8, little) : at + 8;
    if (size === 0 || size > MOST_BYTES || from + size > view.byteLength || found.some((entry) => entry.tag === tag)) continue;
    found.push({ tag, type, count, bytes: new Uint8Array(view.buffer, view.byteOffset + from, size).slice() });
  }
  return found;
}

/** How many bytes values take that don't fit their entry: each begins at an even place. @param {Entry} entry */
const outside = ({ bytes }) => (bytes.length > 4 ? bytes.length + (bytes.length % 2) : 0);

/** @param {readonly Entry[]} entries @param {number} [more] entries whose values fit */
const directoryBytes = (entries, more = 0) => 2 + 12 * (entries.length + more) + 4 + entries.reduce((sum, entry) => sum + outside(entry), 0);

/**
 * @param {number} at where it begins in the block
 * @param {readonly Entry[]} entries
 * @param {boolean} little
 * @returns {Uint8Array<ArrayBuffer>} a directory, the last one, and then its values
 */
function directoryAt(at, entries, little) {
  const all = [...entries].sort((a, b) => a.tag - b.tag);
  const made = new Uint8Array(directoryBytes(all));
  const view = new DataView(made.buffer);
  view.setUint16(0, all.length, little);
  let free = 2 + 12 * all.length + 4;
  for (const [i, entry] of all.entries()) {
    const place = 2 + 12 * i;
    view.setUint16(place, entry.tag, little);
    view.setUint16(place + 2, entry.type, little);
    view.setUint32(place + 4, entry.count, little);
    if (outside(entry) > 0) view.setUint32(place + 8, at + free, little);
    made.set(entry.bytes, outside(entry) > 0 ? free : place + 8);
    free += outside(entry);
  }
  return made;
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
