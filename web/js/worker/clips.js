/** The frames of a clip while it plays, for both sides of the wipe. */

/** @import { Answer, Asked, SideName } from "../../types.js" */

import { Player } from "lookwright-core";

/** One for each side: what a look needs is kept from frame to frame. @type {Map<SideName, Player>} */
const players = new Map();

const SIDES = /** @type {const} */ (["before", "after"]);

/**
 * @param {Asked<"clipFrame">} asked
 * @returns {Answer<"clipFrame">}
 */
export function clipFrame({ settings: { look, frame, delivery }, sides, width, height, full, pixels, number }) {
  /** @type {Answer<"clipFrame">} */
  const made = {};
  for (const side of SIDES) {
    const stage = sides[side];
    if (!stage) continue;
    const player = players.get(side) ?? new Player();
    players.set(side, player);
    made[side] = { width, height, pixels: player.frame(look, frame, delivery, stage, pixels, width, height, full.width, full.height, number) };
  }
  return made;
}
