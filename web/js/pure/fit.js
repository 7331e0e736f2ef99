/** How large a picture is in a room: it is made smaller, never larger. */

/** @import { Size } from "../../types.js" */

/**
 * @param {Size} full in pixels
 * @param {Size} room in pixels
 * @returns {Size} whole pixels, at least one each way
 */
export function sizeWithin({ width, height }, room) {
  const scale = Math.min(1, room.width / width, room.height / height);
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}
