/** The part of a picture that this worker develops. */

/** @import { Answer, Asked, HaloPlane, HaloRanges, HaloRows, PartWish, Round, Samples } from "../../types.js" */

import { PicturePart } from "lookwright-wasm";
import { read } from "./settings.js";

/** @type {PicturePart | null} */
let part = null;

function mine() {
  if (!part) throw new Error("no part of a picture was begun here");
  return part;
}

/** @returns {Round} */
function round() {
  const bounds = mine().needs();
  /** @type {[number, number][]} */
  const needs = [];
  for (let i = 0; i + 1 < bounds.length; i += 2) needs.push([bounds[i] ?? 0, bounds[i + 1] ?? 0]);
  return { needs, gathers: mine().gathers(), last: mine().is_last() };
}

/**
 * @param {PartWish} wish
 * @returns {Round | null} null if the picture has fewer parts
 */
export function begin({ settings, format, quality, size: { width, height }, index, count, number }) {
  part = PicturePart.begin(read(settings), format, quality, width, height, index, count, number) ?? null;
  return part && round();
}

/**
 * @param {Samples} rows of the next strip
 * @returns {Answer<"stepPart">}
 */
export function step({ bits, bytes }) {
  const written = mine().step(bits, bytes);
  return { done: mine().done(), bytes: written, buffer: bytes.buffer };
}

/**
 * @param {HaloPlane} plane
 * @returns {HaloRanges}
 */
export function haloRanges({ layer, level }) {
  const [own = 0, ownEnd = 0, wanted = 0, wantedEnd = 0, columns = 0] = mine().halo_ranges(layer, level);
  return { own: [own, ownEnd], wanted: [wanted, wantedEnd], columns };
}

/**
 * @param {Asked<"readHalo">} rows
 * @returns {HaloRows}
 */
export function readHalo({ layer, level, first, end }) {
  return { layer, level, first, values: mine().read_halo(layer, level, first, end) };
}

/** @param {HaloRows} rows */
export function writeHalo({ layer, level, first, values }) {
  mine().write_halo(layer, level, first, values);
}

/** @param {Asked<"closeHalo">} asked */
export function closeHalo({ layer }) {
  mine().close_halo(layer);
}

/** @returns {Round} */
export function next() {
  mine().next_round();
  return round();
}

/** @returns {{ bytes: Uint8Array<ArrayBuffer> }} */
export function finish() {
  const bytes = mine().finish();
  part = null;
  return { bytes };
}
