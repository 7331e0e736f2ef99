/**
 * Keeps what is told over the picture to a third of the window: what finds no room waits its turn, but for the
 * newest, and for files that could not be opened.
 */

import { attribute } from "./dom.js";

/** The share of the window's height that may be covered. */
const SHARE = 1 / 3;
/** What is left between two cards, and what the line takes that says how many wait, in CSS pixels. */
const GAP = 8;
const LINE = 28;
/** A window that is lower has no room for more than what was told last. */
const LOW = 500;

/** @param {Element} card */
export const waits = (card) => card.hasAttribute("data-waits");

/** @param {HTMLElement} region whose children are the cards, the newest last */
export function keepRoom(region) {
  function fit() {
    const cards = /** @type {HTMLElement[]} */ ([...region.children]).filter((card) => !card.hidden && !card.hasAttribute("data-before")).reverse();
    for (const card of cards) attribute(card, "data-waits", undefined);
    const heights = new Map(cards.map((card) => [card, card.offsetHeight + GAP]));
    const [newest] = cards;
    // What was told last is seen; what failed, work that can be stopped, and then the others as far as there is room.
    const urgent = (/** @type {HTMLElement} */ card) => (card === newest ? 3 : card.matches(".failures") ? 2 : card.matches(".notice-job") ? 1 : 0);
    const total = [...heights.values()].reduce((sum, height) => sum + height, 0);
    let room = innerHeight * SHARE + GAP - (total > innerHeight * SHARE + GAP ? LINE : 0);
    let waiting = 0;
    for (const card of [...cards].sort((a, b) => urgent(b) - urgent(a))) {
      room -= heights.get(card) ?? 0;
      if (room >= 0 || card === newest || (innerHeight >= LOW && card.matches(".failures"))) continue;
      attribute(card, "data-waits", "");
      waiting += 1;
    }
    attribute(region, "data-waiting", waiting === 0 ? undefined : `${waiting} more`);
    for (const { firstElementChild: words } of cards) {
      if (words instanceof HTMLParagraphElement) attribute(words, "tabindex", words.scrollHeight > words.clientHeight ? "0" : undefined);
    }
  }
  new MutationObserver(fit).observe(region, { childList: true, subtree: true, attributeFilter: ["hidden", "data-before"] });
  addEventListener("resize", fit);
}
