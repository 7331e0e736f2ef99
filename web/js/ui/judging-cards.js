/** What stands below the instruments: marks on the picture, and pinned probes. */

/** @import { Catalogue, Size, State } from "../../types.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Actions } from "./actions.js" */

import { MOST, within } from "../pure/pins.js";
import { hasBefore, sideRead } from "../pure/reads.js";
import { fileStem } from "../save/download.js";
import { createMarkingCard } from "./marking-card.js";
import { createPinsCard } from "./pins-card.js";

/**
 * @param {{ catalogue: Catalogue, store: Store, actions: Actions, size: () => Size | null,
 *   download: import("../save/download.js").Download }} wiring
 */
export function createJudgingCards({ catalogue, store, actions, size, download }) {
  const { markings } = catalogue.judging;
  const mark = (/** @type {string | null} */ marking) => store.set({ marking, ...(marking ? { panel: "instruments" } : {}) });

  const isShown = (/** @type {string} */ id) => (/** @type {State} */ { marking, panel }) => marking === id && panel === "instruments";

  /** Pins what is pointed at; without a pointer, the middle. */
  function pin() {
    const { pins, tracePoint } = store.get();
    const whole = size();
    if (!whole || pins.length >= MOST) return;
    store.set({ panel: "instruments", pins: [...pins, within(tracePoint ?? { x: whole.width / 2, y: whole.height / 2 }, whole)] });
  }

  const marking = createMarkingCard({ markings, onmarking: mark });
  const pins = createPinsCard({
    catalogue,
    size,
    onpin: pin,
    onpins: (patch) => store.set(patch),
    onsave: (csv) => download(`${fileStem(store.get().reel.find(({ id }) => id === store.get().current)?.name ?? "picture")} pins.csv`, csv, "text/csv"),
  });
  actions.add(
    { id: "pin", label: "Pin what is pointed at", group: "Picture", key: ".", also: "probe sampler point average", enabled: ({ pins: { length } }) => size() !== null && length < MOST, run: pin },
    { id: "read-before", label: "Let the instruments read the side before the wipe", group: "Picture", key: "Shift+I", also: "waveform histogram vectorscope compare", enabled: hasBefore, pressed: (state) => sideRead(state) === "before", run: () => store.set({ scopeSide: sideRead(store.get()) === "before" ? "after" : "before", panel: "instruments" }) },
    ...markings.map(({ id, label }) => ({
      id: `marking-${id}`,
      label: `${label}, on the picture`,
      group: /** @type {const} */ ("Picture"),
      also: "false colour zebra exposure clip warning gamut map",
      // Chosen while the instruments are shut, it is not on the picture.
      pressed: isShown(id),
      run: () => mark(isShown(id)(store.get()) ? null : id),
    })),
  );
  return {
    cards: { marking: marking.el, pins: pins.el },
    /** @param {State} state */
    update(state) {
      marking.update(state);
      pins.update(state);
    },
  };
}
