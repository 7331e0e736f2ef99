/** The pictures that a worker holds: one at full size, or small copies of many. */

/** @import { Tell, Asked, Opened, Samples, Size, SmallCopy } from "../../types.js" */

import { Picture } from "lookwright-wasm";
import { sizeWithin } from "../pure/fit.js";
import { NeedsWhole } from "./needs-whole.js";

/** What a small copy fits into, if nothing else is asked for. */
const SMALL = { width: 240, height: 240 };

/** @type {Map<string, { picture: Picture, small: Size }>} */
const pictures = new Map();

/** How files become pictures: here those of the common formats. @type {Reading} */
let reading = {
  examine(head, size) {
    if (Picture.needs_whole(head)) throw new NeedsWhole();
    Picture.examine(head, size);
  },
  open(bytes, name) {
    const opened = Picture.open(bytes, name);
    if (!opened) throw new NeedsWhole();
    return opened;
  },
};

/**
 * @typedef {object} Reading
 * @property {(head: Uint8Array, size: number) => void} examine throws one sentence if a file can't be opened
 * @property {(bytes: Uint8Array, name: string) => Picture} open
 */

/** @param {Reading} other */
export function readWith(other) {
  reading = other;
}

/**
 * @param {string} id
 * @returns {Picture}
 */
export function picture(id) {
  return entry(id).picture;
}

/**
 * @param {string} id
 * @returns {Size}
 */
export function smallSize(id) {
  return entry(id).small;
}

/** Said of a picture that another one has replaced meanwhile: whoever asked has no use for an answer. */
export class NotHeld extends Error {}

/** @param {string} id */
function entry(id) {
  const found = pictures.get(id);
  if (!found) throw new NotHeld("another frame is open by now");
  return found;
}

/**
 * Opens a picture and lets go of every other: only one is held at full size. If it can't be read,
 * the others stay.
 * @param {Asked<"open">} asked
 * @param {Tell} tell how much of the file has been read
 */
export async function open({ id, name, file, number }, tell) {
  const opened = reading.open(await pictureBytesOf(file, tell), name);
  if (number !== undefined) opened.set_number(number);
  return hold(id, opened);
}

/**
 * As {@link open}, a frame of a clip.
 * @param {Asked<"openStill">} asked
 */
export function openStill({ id, name, pixels, width, height, number }) {
  return hold(id, Picture.from_rgba8(asBytes(pixels), width, height, name, number));
}

/**
 * @param {string} id
 * @param {Picture} opened
 * @returns {Opened}
 */
function hold(id, opened) {
  for (const other of [...pictures.keys()]) drop(other);
  const info = opened.info();
  pictures.set(id, { picture: opened, small: smallOf(info) });
  return { info, copy: copyOf(opened, info) };
}

/**
 * Takes over a small copy that another worker has made.
 * @param {Asked<"adopt">} asked
 */
export function adopt({ id, copy: { code, width, height, full, number } }) {
  drop(id);
  const picture = Picture.from_copy(code, width, height, full.width, full.height);
  picture.set_number(number);
  pictures.set(id, { picture, small: { width, height } });
}

/**
 * A copy of the held picture.
 * @param {Asked<"copy">} asked
 */
export function copy({ id, box }) {
  const held = picture(id);
  return copyOf(held, held.info(), box);
}

/**
 * What there is to know of a picture, and a small copy of it; it is not held.
 * @param {Asked<"lookAt">} asked
 * @param {Tell} tell how much of the file has been read
 */
export async function lookAt({ name, file, box }, tell) {
  return known(reading.open(await pictureBytesOf(file, tell), name), box);
}

/**
 * As {@link lookAt}, of a frame of a clip.
 * @param {Asked<"lookAtStill">} asked
 */
export function lookAtStill({ name, pixels, width, height, number, box }) {
  return known(Picture.from_rgba8(asBytes(pixels), width, height, name, number), box);
}

/**
 * @param {Picture} opened
 * @param {Size} [box] that its copy fits into
 * @returns {Opened}
 */
function known(opened, box) {
  const info = opened.info();
  const copy = copyOf(opened, info, box);
  opened.free();
  return { info, copy };
}

/** @param {string} id */
export function drop(id) {
  const dropped = pictures.get(id)?.picture;
  pictures.delete(id);
  if (dropped !== lent) dropped?.free();
}

/** The picture whose rows are being saved: it stays until it is released. @type {Picture | null} */
let lent = null;
/** How often one was lent. */
let loans = 0;

/**
 * @param {string} id
 * @returns {Size & { number: number, loan: number }} number: of the frame in its clip, or in its name
 */
export function lend(id) {
  const { picture: asked } = entry(id);
  const { width, height } = asked.info();
  release(loans);
  lent = asked;
  loans += 1;
  return { width, height, number: asked.number(), loan: loans };
}

/**
 * Rows of the lent picture.
 * @param {Asked<"rows">} asked
 * @returns {Samples}
 */
export function rows({ first, end, buffer }) {
  if (!lent) throw new NotHeld("The frame was closed meanwhile; choose it again.");
  return { bits: lent.sample_bits(), bytes: lent.rows(first, end, buffer && new Uint8Array(buffer)) };
}

/** @param {number} loan what was lent later stays */
export function release(loan) {
  if (loan !== loans) return;
  if (lent && ![...pictures.values()].some(({ picture }) => picture === lent)) lent.free();
  lent = null;
}

/**
 * @param {Picture} opened
 * @param {Size} full
 * @param {Size} [box] that it fits into
 * @returns {SmallCopy}
 */
function copyOf(opened, { width, height }, box) {
  const small = smallOf({ width, height }, box);
  return { ...small, code: opened.small_copy(small.width, small.height), full: { width, height }, number: opened.number() };
}

/**
 * @param {Size} full
 * @param {Size} [box]
 */
const smallOf = (full, box = SMALL) => sizeWithin(full, box);

/** As much of a picture's file as its header mostly takes, in bytes. */
const HEAD = 1 << 18;

/**
 * As {@link bytesOf}, of a picture: what can't be opened is refused by its first bytes.
 * @param {Blob} file
 * @param {Tell} tell how much of it has been read
 */
export async function pictureBytesOf(file, tell) {
  reading.examine(await bytesOf(file.slice(0, HEAD)), file.size);
  const bytes = await bytesOf(file, tell);
  tell({ done: file.size, total: file.size });
  return bytes;
}

/** How much of a file is read at a time when it is told how far that is, in bytes. */
const PIECE = 8 << 20;

/**
 * A file's bytes. Files are read where they are needed: to send one costs nothing.
 * @param {Blob} file
 * @param {Tell} [tell] how much of it has been read
 */
export async function bytesOf(file, tell) {
  const moved = () => {
    throw new Error("The file can't be read any more: it was moved, changed or deleted. Open it again.");
  };
  if (!tell || file.size <= PIECE) return new Uint8Array(await file.arrayBuffer().catch(moved));
  const bytes = new Uint8Array(file.size);
  for (let start = 0; start < file.size; start += PIECE) {
    tell({ done: start, total: file.size });
    bytes.set(new Uint8Array(await file.slice(start, start + PIECE).arrayBuffer().catch(moved)), start);
  }
  return bytes;
}

/**
 * The same bytes, as the core takes them.
 * @param {Uint8ClampedArray} pixels
 */
export const asBytes = (pixels) => new Uint8Array(pixels.buffer, pixels.byteOffset, pixels.length);
