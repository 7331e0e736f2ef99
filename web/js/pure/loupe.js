/** A loupe over the picture: which of the file's pixels it shows, and where its glass stands. All pixels of the glass are the device's. */

/** @import { Box, Loupe, SideName, Size, View } from "../../types.js" */

/** Device pixels for one of the file, each way. */
export const ZOOMS = /** @type {const} */ ([1, 2, 4]);
/** What is fetched around what is seen, in the file's pixels, so that a small move needs nothing new. */
const AROUND = 64;
/** How far above a finger the glass stands, and what it keeps from the pane's edge, in CSS pixels. */
const ABOVE = 36;
const EDGE = 4;

/**
 * @param {Loupe} loupe
 * @param {number} by steps towards larger pixels
 * @returns {Loupe}
 */
export function zoomedBy(loupe, by) {
  const at = Math.min(Math.max(ZOOMS.indexOf(loupe.zoom) + by, 0), ZOOMS.length - 1);
  return { ...loupe, zoom: /** @type {Loupe["zoom"]} */ (ZOOMS[at]) };
}

/**
 * @param {{ x: number, y: number }} point in the file's pixels
 * @param {Size} picture
 * @returns {{ x: number, y: number }} the pixel of the picture that is nearest
 */
export function inside({ x, y }, { width, height }) {
  const held = (/** @type {number} */ at, /** @type {number} */ length) => Math.min(Math.max(Math.floor(at), 0), length - 1);
  return { x: held(x, width), y: held(y, height) };
}

/**
 * What of the file the glass shows: its middle is the loupe's pixel. It may reach beyond the picture.
 * @param {Loupe} loupe
 * @param {number} glass side of the glass, a multiple of the largest zoom
 * @returns {Box}
 */
export function windowOf({ x, y, zoom }, glass) {
  const side = glass / zoom;
  return { x: x - Math.floor(side / 2), y: y - Math.floor(side / 2), width: side, height: side };
}

/**
 * @param {Box} part
 * @param {Size} picture
 * @param {number} [around]
 * @returns {Box} what of it, and around it, the picture has
 */
export function fetched(part, picture, around = AROUND) {
  const x = Math.max(0, part.x - around);
  const y = Math.max(0, part.y - around);
  return { x, y, width: Math.min(picture.width, part.x + part.width + around) - x, height: Math.min(picture.height, part.y + part.height + around) - y };
}

/**
 * @param {Box} outer
 * @param {Box} inner
 */
export function covers(outer, inner) {
  return inner.x >= outer.x && inner.y >= outer.y && inner.x + inner.width <= outer.x + outer.width && inner.y + inner.height <= outer.y + outer.height;
}

/**
 * The side that the loupe's pixel is seen on: where the sides stand above each other the one that was pointed at.
 * @param {Loupe} loupe
 * @param {View} view
 * @param {Size} picture
 * @returns {SideName}
 */
export function sideUnder({ x, side }, view, picture) {
  return side ?? ((x + 0.5) / picture.width < view.wipe ? "before" : "after");
}

/**
 * Where the glass stands in the pane: over its place, above a finger, and whole.
 * @param {{ x: number, y: number }} place in CSS pixels of the pane
 * @param {Loupe} loupe
 * @param {number} side of the glass in CSS pixels
 * @param {Size} pane
 * @returns {{ left: number, top: number }}
 */
export function standing(place, { finger }, side, pane) {
  const held = (/** @type {number} */ at, /** @type {number} */ length) => Math.min(Math.max(at, EDGE), Math.max(EDGE, length - side - EDGE));
  if (!finger) return { left: held(place.x - side / 2, pane.width), top: held(place.y - side / 2, pane.height) };
  const above = place.y - ABOVE - side;
  if (above >= EDGE) return { left: held(place.x - side / 2, pane.width), top: above };
  // Without room above it stands beside the finger.
  const left = place.x > pane.width / 2 ? place.x - ABOVE - side : place.x + ABOVE;
  return { left: held(left, pane.width), top: EDGE };
}
