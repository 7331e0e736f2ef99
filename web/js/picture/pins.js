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

  store.subscribe(async () => {
    if (busy) return;
    busy = true;
    for (;;) {
      const { pins, pinSide, history, panel } = store.get();
      const current = frame();
      if (pins.length === 0 || !current?.info || panel !== "instruments") break;
      const { info } = current;
      const settings = renderSettings(history.present, current.id);
      const key = JSON.stringify([current.id, current.clip?.number, pins, pinSide, settings]);
      if (key === done) break;
      done = key;
      try {
        /** @type {Pinned[]} */
        const pinned = [];
        for (const pin of pins) pinned.push(await bridge.ask("trace", { id: current.id, settings, ...within(pin, info), side: pinSide }));
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
