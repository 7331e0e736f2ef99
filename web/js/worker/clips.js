/** The frames of a clip while it plays, for both sides of the wipe. */

/** @import { Answer, Asked, SideName } from "../../types.js" */

import { ClipPlayer } from "lookwright-wasm";
import { read } from "./settings.js";

/** One for each side: what a look needs is kept from frame to frame. @type {Map<SideName, ClipPlayer>} */
const players = new Map();

const SIDES = /** @type {const} */ (["before", "after"]);

/**
 * @param {Asked<"clipFrame">} asked
 * @returns {Answer<"clipFrame">}
 */
export function clipFrame({ settings, sides, width, height, full, pixels, number }) {
  /** @type {Answer<"clipFrame">} */
  const made = {};
  for (const side of SIDES) {
    const stage = sides[side];
    if (!stage) continue;
    const player = players.get(side) ?? new ClipPlayer();
    players.set(side, player);
    made[side] = { width, height, pixels: player.frame(read(settings), stage, pixels, width, height, full.width, full.height, number) };
  }
  return made;
}
