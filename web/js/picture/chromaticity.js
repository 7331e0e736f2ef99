/** Counts the chromaticities of what the instruments read, as long as they are in sight: the first time that asks for the whole core. */

/** @import { Chromaticities, ReelFrame, Size } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */

import { Superseded, reasonOf } from "../bridge/bridge.js";
import { whyNot } from "../pure/chromaticity.js";
import { sideRead } from "../pure/reads.js";
import { placed, previewSize } from "../pure/viewport.js";
import { renderSettings } from "./render-settings.js";
import { PREVIEW_MOST, sidesOf } from "./scheduler.js";

/**
 * @param {{ store: Store, bridge: Bridge, frame: () => ReelFrame | null, paneSize: () => Size, density: () => number,
 *   show: (found: Chromaticities) => void, point: (found: import("../../types.js").Chromaticity | null) => void, fail: (reason: string) => void }} wiring
 *   point: the colour of the pixel that is pointed at
 */
export function followChromaticity({ store, bridge, frame, paneSize, density, show, point, fail }) {
  let busy = false;
  let done = "";
  let pointed = "";

  function wanted() {
    const now = store.get();
    const current = frame();
    const rests = now.moving === "no" && !now.dragging && !now.without;
    if (!now.chromaticity || now.panel !== "instruments" || !current?.info || !rests) return null;
    const sides = sidesOf(now, current.id, renderSettings(now.history.present, current.id));
    const side = sideRead(now);
    const viewed = side === "before";
    const stage = viewed ? sides.stages.before : now.scopeStage;
    if (!viewed && whyNot(stage)) return null;
    const size = previewSize(current.info, placed(now.view, current.info, paneSize()), density(), PREVIEW_MOST);
    const asked = { id: current.id, settings: sides.settings[side], stage, viewed, ...size };
    return { asked, key: JSON.stringify([asked, current.clip?.number]), values: viewed ? undefined : now.trace?.find((row) => row.stage === stage)?.values };
  }

  store.subscribe(async () => {
    if (busy) return;
    busy = true;
    for (;;) {
      const wish = wanted();
      const pixel = wish?.values ? JSON.stringify([wish.asked.stage, wish.values]) : "";
      if (!wish || (wish.key === done && pixel === pointed)) break;
      try {
        if (wish.key !== done) {
          const found = await bridge.ask("chromaticities", wish.asked);
          done = wish.key;
          // What has moved on meanwhile is counted again.
          if (wanted()?.key === wish.key) show(found);
          continue;
        }
        const { settings, stage } = wish.asked;
        point(wish.values ? await bridge.ask("chromaticityOf", { settings, stage, values: wish.values }) : null);
        pointed = pixel;
      } catch (error) {
        // The frame was changed meanwhile, or the worker; what comes next asks again.
        if (!(error instanceof Superseded)) fail(reasonOf(error));
        done = pointed = "";
        break;
      }
    }
    busy = false;
  });
}
