/** What can be done on the desk itself, and each control as a place to go to. */

/** @import { Catalogue, StageId, State } from "../../types.js" */
/** @import { Player } from "../clip/player.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Action } from "./actions.js" */

/**
 * @typedef {object} Wiring
 * @property {Catalogue} catalogue
 * @property {Store} store
 * @property {Edits} edits
 * @property {() => Player} player
 * @property {() => void} pick asks for files
 * @property {(devicePixels: number) => void} zoom
 * @property {() => unknown} save opens the dialog
 * @property {() => unknown} kept opens the list of kept work
 * @property {() => void} palette
 * @property {() => void} keys
 */

/**
 * @param {Wiring} wiring
 * @returns {Action[]}
 */
export function deskActions({ catalogue, store, edits, player, pick, zoom, save, kept, palette, keys }) {
  const past = (/** @type {State} */ { history }) => history.past.length > 0;
  const future = (/** @type {State} */ { history }) => history.future.length > 0;
  const clip = (/** @type {State} */ { reel, current }) => reel.some(({ id, clip }) => id === current && clip !== undefined);
  return [
    { id: "open", label: "Open frames", group: "Frames", key: "O", also: "import load file photo picture clip camera", run: pick },
    { id: "kept", label: "Kept work", group: "Frames", also: "session earlier recent", run: kept },
    { id: "play", label: "Play or pause", group: "Frames", key: "Space", enabled: clip, run: () => player().toggle() },
    { id: "save", label: "Save or send", group: "Look", key: "S", also: "export download share table pack link plate", run: save },
    { id: "undo", label: "Undo", group: "Look", key: "Ctrl+Z", enabled: past, run: edits.undo },
    { id: "redo", label: "Redo", group: "Look", key: "Ctrl+Shift+Z", orKey: "Ctrl+Y", enabled: future, run: edits.redo },
    { id: "fit", label: "Fit the picture", group: "Picture", key: "0", also: "zoom whole", run: () => zoom(0) },
    { id: "one-to-one", label: "One to one", group: "Picture", key: "Z", also: "zoom 100 % pixels", run: () => zoom(store.get().view.scale === "fit" ? 1 : 0) },
    { id: "two-to-one", label: "Two to one", group: "Picture", key: "Shift+Z", also: "zoom 200 %", run: () => zoom(2) },
    { id: "instruments", label: "Instruments", group: "Picture", key: "I", also: "waveform vectorscope histogram trace scopes", run: () => store.set({ instruments: !store.get().instruments }) },
    ...catalogue.stages.map(({ id, label }, i) => stageAction(store, id, label, String(i + 1))),
    ...catalogue.stages.flatMap((stage) => stage.steps.flatMap((step) => step.controls.map((control) => controlAction(store, stage, step, control)))),
    { id: "palette", label: "Find an action or a control", group: "Page", key: "/", orKey: "Ctrl+K", run: palette },
    { id: "keys", label: "List of keys", group: "Page", key: "?", also: "shortcuts keyboard help", run: keys },
  ];
}

/**
 * @param {Store} store
 * @param {StageId} id
 * @param {string} label
 * @param {string} key
 * @returns {Action}
 */
function stageAction(store, id, label, key) {
  return { id: `stage-${id}`, label, group: "Light path", key, run: () => store.set({ openStage: store.get().openStage === id ? null : id }) };
}

/**
 * @param {Store} store
 * @param {Catalogue["stages"][number]} stage
 * @param {Catalogue["stages"][number]["steps"][number]} step
 * @param {import("../../types.js").ControlEntry} control
 * @returns {Action}
 */
function controlAction(store, stage, step, control) {
  return {
    id: `control-${stage.id}.${step.id}.${control.id}`,
    label: control.label === step.label ? control.label : `${control.label}, ${step.label.toLowerCase()}`,
    also: stage.label,
    group: "Controls",
    soughtOnly: true,
    run() {
      const unfolded = `${stage.id}.${step.id}`;
      const { openSteps } = store.get();
      store.set({ openStage: stage.id, openSteps: openSteps.includes(unfolded) ? openSteps : [...openSteps, unfolded] });
      queueMicrotask(() => goTo(`[data-stage="${stage.id}"] [data-step="${step.id}"]`, control));
    },
  };
}

/**
 * @param {string} within
 * @param {import("../../types.js").ControlEntry} control
 */
function goTo(within, control) {
  const own = document.querySelector(`${within} [data-control="${control.id}"]`) ?? document.querySelector(within);
  const target = own?.querySelector("input, select, button");
  if (!(target instanceof HTMLElement)) return;
  target.scrollIntoView({ block: "center" });
  target.focus();
}
