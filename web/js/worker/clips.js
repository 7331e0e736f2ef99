/** The frames of a clip while it plays, for both sides of the wipe. */

/** @import { Recipe, Shown, Size } from "../../types.js" */

import { Player } from "lookwright-core";

/** One for each side: what a look needs is kept from frame to frame. @type {Map<string, Player>} */
const players = new Map();

/**
 * @param {{ recipe: Recipe, sides: Record<string, string>, width: number, height: number, full: Size,
 *   pixels: Uint8ClampedArray, number: number }} asked sides: the stage that each side shows
 */
export function clipFrame({ recipe: { look, frame, delivery }, sides, width, height, full, pixels, number }) {
  /** @type {Record<string, Shown>} */
  const made = {};
  for (const [side, stage] of Object.entries(sides)) {
    const player = players.get(side) ?? new Player();
    players.set(side, player);
    made[side] = { width, height, pixels: player.frame(look, frame, delivery, stage, pixels, width, height, full.width, full.height, number) };
  }
  return made;
}
