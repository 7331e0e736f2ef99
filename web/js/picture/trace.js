/** The pixel trace: follows the pointer over the picture, and the look as it changes. */

/** @import { ReelFrame, TraceRow } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */

import { placed } from "../pure/viewport.js";
import { renderSettings } from "./render-settings.js";

/** @typedef {ReturnType<typeof createTrace>} Trace */

/**
 * @param {{ store: Store, bridge: Bridge, frame: () => ReelFrame | null,
 *   paneSize: () => import("../../types.js").Size, show: (rows: TraceRow[]) => void }} wiring
 */
export function createTrace({ store, bridge, frame, paneSize, show }) {
  let busy = false;
  let done = "";

  async function work() {
    if (busy) return;
    busy = true;
    for (;;) {
      const { tracePoint, history, instruments, panel } = store.get();
      const current = frame();
      if (!tracePoint || !current || !(instruments || panel === "instruments")) break;
      const settings = renderSettings(history.present, current.id);
      const key = JSON.stringify([current.id, current.clip?.number, tracePoint, settings]);
      if (key === done) break;
      done = key;
      try {
        show(await bridge.ask("trace", { id: current.id, settings, ...tracePoint, side: 1 }));
      } catch {
        // The frame was changed meanwhile; the next point asks again.
        break;
      }
    }
    busy = false;
  }

  store.subscribe(work);

  /**
   * Traces the picture point under a place of the pane.
   * @param {number} x CSS pixels
   * @param {number} y CSS pixels
   */
  return function at(x, y) {
    const info = frame()?.info;
    if (!info) return;
    const box = placed(store.get().view, info, paneSize());
    const point = { x: Math.floor(((x - box.x) / box.width) * info.width), y: Math.floor(((y - box.y) / box.height) * info.height) };
    if (point.x < 0 || point.y < 0 || point.x >= info.width || point.y >= info.height) return;
    store.set({ tracePoint: point });
  };
}
