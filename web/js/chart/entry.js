/** Chart check: its action, and its card among the instruments, which is loaded when they are first opened. */

/** @import { Actions } from "../ui/actions.js" */
/** @import { Wiring } from "./chart.js" */

/** @param {Wiring & { actions: Actions }} wiring */
export function addChart({ actions, ...wiring }) {
  const { store, frame, notices } = wiring;
  /** @type {Promise<import("./chart.js").Chart> | null} */
  let chart = null;

  function opened() {
    chart ??= import("./chart.js").then(({ createChart }) => createChart(wiring));
    // It is tried again when it is next asked for.
    chart.catch(() => (chart = null));
    return chart;
  }

  store.subscribe(() => {
    if (store.get().panel === "instruments" && !chart) opened().catch(notices.problem);
  });
  actions.add({
    id: "chart",
    label: "Find the chart in this frame",
    group: "Picture",
    also: "24 patch colour chart check calibrate patches grey delta e",
    enabled: () => frame() !== null,
    async run() {
      store.set({ panel: "instruments" });
      (await opened()).find();
    },
  });
}
