/** The moving picture: each frame that a clip's decoder shows, through the look and onto the screen. */

/** @import { Asked, Core, Size } from "../../types.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Picture } from "../ui/picture/picture.js" */
/** @import { Decoder } from "./decoder.js" */

import { renderSettings } from "../picture/render-settings.js";
import { PREVIEW_MOST } from "../picture/scheduler.js";
import { beginCadence, made, shown, shownPerSecond } from "../pure/cadence.js";
import { SIZES, beginPace, came, offered, paceWords } from "../pure/pace.js";
import { placed, previewSize } from "../pure/viewport.js";
import { WORKERS, createPool } from "./pool.js";

const SIDES = /** @type {const} */ (["before", "after"]);

/**
 * @param {{ core: Core, store: Store, picture: Picture }} wiring
 */
export function createMovingPicture({ core, store, picture }) {
  const pool = createPool(core);
  let pace = beginPace();
  let cadence = beginCadence();
  /** Frames are shown in the order in which they were taken. @type {Promise<unknown>} */
  let showing = Promise.resolve();
  /** The number of the frame that is shown. */
  let number = 0;

  /** @param {Size} whole */
  function sizeNow(whole) {
    const box = placed(store.get().view, whole, picture.paneSize());
    const full = previewSize(whole, box, picture.density(), PREVIEW_MOST);
    const part = SIZES[pace.level] ?? 1;
    return { width: Math.max(1, Math.round(full.width * part)), height: Math.max(1, Math.round(full.height * part)) };
  }

  /** What each side of the wipe shows, if anything is seen of it. @returns {Asked<"clipFrame">["sides"]} */
  function sidesNow() {
    const { wipe, before, after } = store.get().view;
    return { ...(wipe < 1 ? { after } : {}), ...(wipe > 0 ? { before } : {}) };
  }

  /**
   * Renders the frame that the decoder shows, if a worker can take it.
   * @param {string} id
   * @param {Decoder} decoder
   * @param {number} at the frame's number
   * @param {boolean} [evenly] whether frames follow each other: an early one waits
   * @returns {Promise<void> | null}
   */
  function render(id, decoder, at, evenly = false) {
    const develop = pool.idlest();
    if (!develop) return null;
    const size = sizeNow(decoder.size);
    const pixels = decoder.pixels(size);
    const before = showing;
    const begin = performance.now();
    const settings = renderSettings(store.get().history.present, id);
    const asked = { settings, sides: sidesNow(), ...size, full: decoder.size, pixels, number: at };
    const show = async () => {
      const sides = await develop(asked);
      const took = performance.now() - begin;
      pace = came(pace, took);
      const next = made(cadence, took);
      cadence = next.cadence;
      if (evenly && store.get().moving === "playing" && next.wait > 1) await new Promise((resolve) => setTimeout(resolve, next.wait));
      await before;
      if (store.get().moving === "no" || store.get().current !== id) return;
      number = at;
      for (const side of SIDES) {
        const picked = sides[side];
        if (picked) picture.show(side, picked);
      }
    };
    const work = show();
    showing = work.catch(() => {});
    return work;
  }

  return {
    render,
    number: () => number,

    /** @param {number} from the frame's number */
    begin(from) {
      number = from;
      pace = beginPace(pace.level);
      cadence = beginCadence();
    },

    /**
     * As {@link render}, a frame of a clip that plays; the size follows whether frames are missed.
     * @param {string} id
     * @param {Decoder} decoder
     * @param {number} at the frame's number
     * @param {number} period ms between frames
     */
    play(id, decoder, at, period) {
      const work = render(id, decoder, at, true);
      pace = offered(pace, work !== null, period, WORKERS);
      return work?.then(() => {
        cadence = shown(cadence, performance.now());
      });
    },

    /**
     * How it keeps up.
     * @param {number} rate frames per second of the clip
     */
    words: (rate) => paceWords(shownPerSecond(cadence) ?? rate, rate, pace.level),
  };
}
