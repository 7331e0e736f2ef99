/** The rate that a clip's file states by the times of its frames. */

import { decodable, openClip } from "./decoded.js";

/** How many frames it is taken from: enough that times in whole milliseconds, as WebM has them, tell 23.976 from 24. */
const FRAMES = 250;

/**
 * @param {Blob} file
 * @returns {Promise<number | null>} frames per second; null if it can't be known
 */
export async function statedRate(file) {
  const input = openClip(file);
  try {
    const track = await decodable(input);
    if (!track) return null;
    const { packetCount, averagePacketRate } = await track.computePacketStats(FRAMES);
    return packetCount > 1 && Number.isFinite(averagePacketRate) ? averagePacketRate : null;
  } catch {
    return null;
  } finally {
    input.dispose();
  }
}
