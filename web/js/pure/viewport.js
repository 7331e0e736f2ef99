/** Where the picture lies in its pane: fit, zoom about a point, pan, and what of it is seen. */

/** @import { Box, Size, View } from "../../types.js" */

/** Smallest and largest scale, in device pixels per picture pixel. */
const FINEST = 16;

/**
 * CSS pixels per picture pixel at which the whole picture is seen.
 * @param {Size} picture
 * @param {Size} pane
 * @returns {number}
 */
export function fitScale(picture, pane) {
  return Math.min(pane.width / picture.width, pane.height / picture.height);
}

/**
 * @param {View} view
 * @param {Size} picture
 * @param {Size} pane
 * @returns {number} CSS pixels per picture pixel
 */
export function scaleOf(view, picture, pane) {
  return view.scale === "fit" ? fitScale(picture, pane) : view.scale;
}

/**
 * The picture's box in the pane, in CSS pixels.
 * @param {View} view
 * @param {Size} picture
 * @param {Size} pane
 * @returns {Box}
 */
export function placed(view, picture, pane) {
  const scale = scaleOf(view, picture, pane);
  const width = picture.width * scale;
  const height = picture.height * scale;
  const centre = view.scale === "fit" ? { x: 0.5, y: 0.5 } : view.centre;
  return {
    x: along(centre.x, width, pane.width),
    y: along(centre.y, height, pane.height),
    width,
    height,
  };
}

/**
 * @param {number} centre
 * @param {number} length
 * @param {number} pane
 * @returns {number} offset; a picture shorter than its pane stays in the middle
 */
function along(centre, length, pane) {
  if (length <= pane) return (pane - length) / 2;
  return Math.min(0, Math.max(pane - length, pane / 2 - centre * length));
}

/** Between two pictures of which one stands above the other, and of the wipe's rail below a picture. */
export const GAP = 2;
const RAIL = 44;

/**
 * Whether before and after stand one above the other, and what room a picture has. They do where
 * the window is upright and that makes them larger by half than one with a wipe, which is less than
 * half of the screen there.
 * @param {Size | null} picture
 * @param {Size} room
 * @param {{ upright: boolean, rail: boolean, screen: Size }} shape rail: the wipe's grip has a rail below the picture
 * @returns {{ stacked: boolean, part: Size }}
 */
export function arranged(picture, room, { upright, rail, screen }) {
  const one = rail ? { ...room, height: Math.max(1, room.height - RAIL) } : room;
  if (!picture || !upright) return { stacked: false, part: one };
  const half = { ...room, height: Math.max(1, (room.height - GAP) / 2) };
  const area = (/** @type {Size} */ part) => picture.width * picture.height * fitScale(picture, part) ** 2;
  const stacked = 2 * area(half) > 1.2 * area(one) && area(one) < 0.5 * screen.width * screen.height;
  return { stacked, part: stacked ? half : one };
}

/**
 * Zooms so that the point under the pointer stays where it is.
 * @param {View} view
 * @param {number} scale wanted, CSS pixels per picture pixel
 * @param {{ x: number, y: number }} at in the pane
 * @param {Size} picture
 * @param {Size} pane
 * @param {number} density device pixels per CSS pixel
 * @returns {View}
 */
export function zoomed(view, scale, at, picture, pane, density) {
  const fit = fitScale(picture, pane);
  const wanted = Math.min(FINEST / density, scale);
  if (wanted <= fit * 1.02) return { ...view, scale: "fit", centre: { x: 0.5, y: 0.5 } };
  const box = placed(view, picture, pane);
  const point = { x: (at.x - box.x) / box.width, y: (at.y - box.y) / box.height };
  const centre = {
    x: point.x + (pane.width / 2 - at.x) / (picture.width * wanted),
    y: point.y + (pane.height / 2 - at.y) / (picture.height * wanted),
  };
  return held({ ...view, scale: wanted, centre }, picture, pane);
}

/**
 * @param {View} view
 * @param {number} dx CSS pixels the picture moves to the right
 * @param {number} dy CSS pixels the picture moves down
 * @param {Size} picture
 * @param {Size} pane
 * @returns {View}
 */
export function panned(view, dx, dy, picture, pane) {
  if (view.scale === "fit") return view;
  const centre = {
    x: view.centre.x - dx / (picture.width * view.scale),
    y: view.centre.y - dy / (picture.height * view.scale),
  };
  return held({ ...view, centre }, picture, pane);
}

/**
 * Takes the centre back to where the picture really stands.
 * @param {View} view
 * @param {Size} picture
 * @param {Size} pane
 * @returns {View}
 */
function held(view, picture, pane) {
  const box = placed(view, picture, pane);
  const centre = {
    x: (pane.width / 2 - box.x) / box.width,
    y: (pane.height / 2 - box.y) / box.height,
  };
  return { ...view, centre };
}

/**
 * The part of the picture that is seen, in whole picture pixels.
 * @param {View} view
 * @param {Size} picture
 * @param {Size} pane
 * @returns {Box}
 */
export function seen(view, picture, pane) {
  const scale = scaleOf(view, picture, pane);
  const box = placed(view, picture, pane);
  const x = Math.max(0, Math.floor(-box.x / scale));
  const y = Math.max(0, Math.floor(-box.y / scale));
  const right = Math.min(picture.width, Math.ceil((pane.width - box.x) / scale));
  const bottom = Math.min(picture.height, Math.ceil((pane.height - box.y) / scale));
  return { x, y, width: Math.max(1, right - x), height: Math.max(1, bottom - y) };
}

/**
 * The size to render a picture at so that it fills its box sharply within a number of pixels.
 * @param {Size} picture
 * @param {Size} box CSS pixels
 * @param {number} density device pixels per CSS pixel
 * @param {number} most pixels at most
 * @returns {Size}
 */
export function previewSize(picture, box, density, most) {
  const wanted = Math.min(1, (box.width * density) / picture.width);
  const allowed = Math.sqrt(most / (picture.width * picture.height));
  const scale = Math.min(wanted, allowed);
  return {
    width: Math.max(1, Math.round(picture.width * scale)),
    height: Math.max(1, Math.round(picture.height * scale)),
  };
}
