/** Asks for the numbers of all pins anew whenever the look, the frame or a pin changes. */

/** @import { Pinned, ReelFrame } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */

import { within } from "../pure/pins.js";
import { renderSettings } from "./render-settings.js";

/**
 * @param {{ store: Store, bridge: Bridge, frame: () => ReelFrame | null }} wiring
 */
export function followPins({ store, bridge, frame }) {
  let busy = false;
  let done = "";
  /** The frame whose numbers stand in the table. */
  let read = "";

  /** What is to be read now, if anything: of which places, and through what. */
  function wanted() {
    const { pins, pinSide, history, panel, moving } = store.get();
    const current = frame();
    if (pins.length === 0 || !current?.info || panel !== "instruments" || moving !== "no") return null;
    const settings = renderSettings(history.present, current.id);
    const of = `${current.id} ${current.clip?.number ?? ""}`;
    const places = JSON.stringify([of, pins, pinSide]);
    return { id: current.id, of, info: current.info, pins, side: pinSide, settings, places, key: places + JSON.stringify(settings) };
  }

  /** Numbers of what is not looked at any more would be taken for those of what is. */
  function clear() {
    if (store.get().pinned.length > 0) store.set({ pinned: [] });
    done = read = "";
  }

  store.subscribe(async () => {
    if (busy) return;
    busy = true;
    for (;;) {
      const wish = wanted();
      if (!wish || (read && read !== wish.of)) clear();
      if (!wish || (wish.key === done && wish.pins.every((_, i) => store.get().pinned[i]?.length))) break;
      done = wish.key;
      try {
        /** @type {Pinned[]} */
        const pinned = [];
        for (const pin of wish.pins) pinned.push(await bridge.ask("trace", { id: wish.id, settings: wish.settings, ...within(pin, wish.info), side: wish.side }));
        // A look that goes on moving is read again; another place or frame has no use for these.
        if (wanted()?.places !== wish.places) continue;
        read = wish.of;
        store.set({ pinned });
      } catch {
        // The frame was changed meanwhile; what comes next asks again.
        done = "";
        break;
      }
    }
    busy = false;
  });
}
