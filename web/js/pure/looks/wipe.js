/** A wipe at any angle: which part of a picture lies behind its line, and where its grip stands. */

/** @import { Size } from "../../../types.js" */

/** @typedef {{ x: number, y: number }} Point */

/**
 * A line at `share` of the way across: at 0 all of the picture lies behind it, at 1 none.
 * @typedef {{ share: number, degrees: number }} Wipe degrees: 0 is upright, 90 level; clockwise
 */

/** The direction in which a wipe moves. @param {number} degrees @returns {Point} */
const normal = (degrees) => ({ x: Math.cos((degrees * Math.PI) / 180), y: Math.sin((degrees * Math.PI) / 180) });

/**
 * How far the corners of a picture reach along a wipe's direction, from its middle.
 * @param {Size} size
 * @param {Point} direction
 */
const reach = ({ width, height }, { x, y }) => (Math.abs(x) * width + Math.abs(y) * height) / 2;

/**
 * The part of the picture behind the line, as corners in its own pixels.
 * @param {Wipe} wipe
 * @param {Size} size
 * @returns {Point[]} none if nothing lies there
 */
export function behind({ share, degrees }, size) {
  const n = normal(degrees);
  const offset = (2 * share - 1) * reach(size, n);
  const side = (/** @type {Point} */ { x, y }) => (x - size.width / 2) * n.x + (y - size.height / 2) * n.y - offset;
  const corners = [
    { x: 0, y: 0 },
    { x: size.width, y: 0 },
    { x: size.width, y: size.height },
    { x: 0, y: size.height },
  ];
  // Sutherland and Hodgman's clipping (Comm. ACM 17(1), 1974) against one line.
  return corners.flatMap((corner, i) => {
    const before = corners[(i + 3) % 4] ?? corner;
    const [from, to] = [side(before), side(corner)];
    const crossing = { x: before.x + ((corner.x - before.x) * from) / (from - to), y: before.y + ((corner.y - before.y) * from) / (from - to) };
    if (to >= 0) return from < 0 ? [crossing, corner] : [corner];
    return from >= 0 && from !== to ? [crossing] : [];
  });
}

/**
 * The middle of the line.
 * @param {Wipe} wipe
 * @param {Size} size
 * @returns {Point}
 */
export function gripOf({ share, degrees }, size) {
  const n = normal(degrees);
  const offset = (2 * share - 1) * reach(size, n);
  return { x: size.width / 2 + n.x * offset, y: size.height / 2 + n.y * offset };
}

/**
 * The share at which the line goes through a point.
 * @param {Point} point
 * @param {number} degrees
 * @param {Size} size
 * @returns {number} 0 ... 1
 */
export function shareAt({ x, y }, degrees, size) {
  const n = normal(degrees);
  const along = (x - size.width / 2) * n.x + (y - size.height / 2) * n.y;
  return Math.min(1, Math.max(0, (along / reach(size, n) + 1) / 2));
}
