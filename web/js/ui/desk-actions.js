/** What can be done on the desk itself, and each control as a place to go to. */

/** @import { Catalogue, StageId, State } from "../../types.js" */
/** @import { Player } from "../clip/player.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Action } from "./actions.js" */

import { turnSurround } from "./surround.js";

/**
 * @typedef {object} Wiring
 * @property {Catalogue} catalogue
 * @property {Store} store
 * @property {Edits} edits
 * @property {() => Player} player
 * @property {() => void} remove takes the frame that is looked at off the reel
 * @property {() => void} removeAll
 * @property {() => void} pick asks for files
 * @property {() => void} photograph asks the device's camera for a photo
 * @property {(devicePixels: number) => void} zoom
 * @property {() => unknown} save opens the dialog
 * @property {() => unknown} start opens what a look can begin from
 * @property {() => boolean} isDesk whether frames have a place of their own
 * @property {(pixels: number) => boolean} isZoom
 * @property {(on: boolean) => void} hold shows the picture as it was
 * @property {{ focused: () => void, back: () => void }} holding shows the picture without what has the focus
 * @property {() => unknown} kept opens the list of kept work
 * @property {() => void} palette
 * @property {() => unknown} help
 * @property {() => void} tour
 * @property {() => void} keys
 */

/** What is held in the hand mostly has a camera. */
const HAND_HELD = matchMedia("(pointer: coarse)");

/**
 * @param {Wiring} wiring
 * @returns {Action[]}
 */
export function deskActions({ catalogue, store, edits, player, pick, photograph, remove, removeAll, zoom, isZoom, isDesk, hold, holding, start, save, kept, palette, help, tour, keys }) {
  const past = (/** @type {State} */ { history }) => history.past.length > 0;
  const future = (/** @type {State} */ { history }) => history.future.length > 0;
  const clip = (/** @type {State} */ { reel, current }) => reel.some(({ id, clip }) => id === current && clip !== undefined);
  /** @param {"frames" | "instruments" | "history"} to */
  const turn = (to) => store.set({ panel: store.get().panel === to ? "controls" : to });
  return [
    { id: "open", label: "Open frames", group: "Frames", key: "O", also: "import load file photo picture clip camera", run: pick },
    { id: "camera", label: "Take a photo", group: "Frames", also: "camera capture shoot picture", enabled: () => HAND_HELD.matches, run: photograph },
    { id: "kept", label: "Kept work", group: "Frames", also: "session earlier recent", run: kept },
    { id: "play", label: "Play or pause", group: "Frames", key: "Space", enabled: clip, run: () => player().toggle() },
    { id: "frames", label: "Frames", group: "Frames", icon: "frames", place: "tools", enabled: () => !isDesk(), pressed: ({ panel }) => panel === "frames", run: () => turn("frames") },
    { id: "remove", label: "Take this frame off the reel", group: "Frames", also: "delete remove close", enabled: ({ current }) => current !== null, run: remove },
    { id: "remove-all", label: "Take every frame off the reel", group: "Frames", also: "delete clear remove all", enabled: ({ reel }) => reel.length > 1, run: removeAll },
    { id: "save", label: "Save or send", short: "Save", group: "Look", key: "S", place: "bar", also: "export download share table pack link plate", run: save },
    { id: "start", label: "Start from a look or a stock", group: "Look", key: "L", also: "library preset begin new", run: start },
    { id: "undo", label: "Undo", group: "Look", key: "Ctrl+Z", icon: "undo", place: "tools", enabled: past, run: edits.undo },
    { id: "redo", label: "Redo", group: "Look", key: "Ctrl+Shift+Z", orKey: "Ctrl+Y", icon: "redo", place: "tools", enabled: future, run: edits.redo },
    { id: "history", label: "History", group: "Look", key: "H", icon: "history", place: "tools", also: "steps undo earlier", pressed: ({ panel }) => panel === "history", run: () => turn("history") },
    { id: "fit", label: "Fit the picture", group: "Picture", key: "0", place: "tools", also: "zoom whole", pressed: () => isZoom(0), run: () => zoom(0) },
    { id: "one-to-one", label: "1:1, a pixel of the picture for one of the screen", group: "Picture", key: "Z", place: "tools", also: "one to one zoom 100 % pixels", pressed: () => isZoom(1), run: () => zoom(isZoom(1) ? 0 : 1) },
    { id: "two-to-one", label: "2:1, twice as large", group: "Picture", key: "Shift+Z", place: "tools", also: "two to one zoom 200 %", pressed: () => isZoom(2), run: () => zoom(2) },
    { id: "four-to-one", label: "4:1, four times as large", group: "Picture", key: "Q", also: "four to one zoom 400 % pixels", pressed: () => isZoom(4), run: () => zoom(isZoom(4) ? 0 : 4) },
    { id: "before", label: "As it was, while the key is held", group: "Picture", key: "Space", also: "before compare", enabled: (state) => !clip(state), run: () => hold(true), release: () => hold(false) },
    { id: "without", label: "Without the control that has the focus, while the key is held", group: "Picture", key: "X", also: "bypass off compare", run: holding.focused, release: holding.back },
    { id: "sides", label: "Say and choose what each side shows", group: "Picture", icon: "sides", place: "tools", also: "before after wipe stage negative", pressed: ({ sides }) => sides, run: () => store.set({ sides: !store.get().sides }) },
    { id: "instruments", label: "Instruments", group: "Picture", key: "I", icon: "scopes", place: "tools", also: "waveform vectorscope histogram trace scopes", pressed: ({ panel }) => panel === "instruments", run: () => turn("instruments") },
    { id: "strip", label: "Small instruments beside the frames", group: "Picture", also: "waveform dock", enabled: isDesk, pressed: ({ instruments }) => instruments, run: () => store.set({ instruments: !store.get().instruments }) },
    { id: "bare", label: "Nothing but the picture", group: "Picture", key: "P", icon: "bare", place: "tools", also: "hide panels", pressed: ({ bare }) => bare, run: () => store.set({ bare: !store.get().bare }) },
    { id: "full", label: "Full screen", group: "Picture", key: "F", icon: "full", place: "tools", pressed: () => document.fullscreenElement !== null, run: fullScreen },
    { id: "surround", label: "Light or dark surround", group: "Picture", also: "background grey white", run: turnSurround },
    ...catalogue.stages.map(({ id, label }, i) => stageAction(store, id, label, String(i + 1))),
    ...catalogue.stages.flatMap((stage) => stage.steps.flatMap((step) => step.controls.map((control) => controlAction(store, stage, step, control)))),
    { id: "palette", label: "Find an action or a control", group: "Page", key: "/", orKey: "Ctrl+K", icon: "menu", place: "tools", run: palette },
    { id: "tour", label: "A walk along the light path", group: "Page", also: "tour help lesson intro", run: tour },
    { id: "help", label: "Help", group: "Page", also: "about version licences privacy", run: help },
    { id: "keys", label: "List of keys", group: "Page", key: "?", also: "shortcuts keyboard help", run: keys },
  ];
}

function fullScreen() {
  return document.fullscreenElement ? document.exitFullscreen() : document.documentElement.requestFullscreen();
}

/**
 * @param {Store} store
 * @param {StageId} id
 * @param {string} label
 * @param {string} key
 * @returns {Action}
 */
function stageAction(store, id, label, key) {
  return { id: `stage-${id}`, label, group: "Light path", key, run: () => store.set(store.get().openStage === id && store.get().panel === "controls" ? { openStage: null } : { openStage: id, panel: "controls" }) };
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
      store.set({ openStage: stage.id, panel: "controls", single: false, openSteps: openSteps.includes(unfolded) ? openSteps : [...openSteps, unfolded] });
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
  const rest = target.closest(".steps-rest");
  if (rest instanceof HTMLElement && rest.hidden) rest.parentElement?.querySelector(".as-it-came")?.dispatchEvent(new MouseEvent("click"));
  if (!target.checkVisibility()) target.closest(".step-body")?.querySelector('.wheel-fold[aria-expanded="false"]')?.dispatchEvent(new MouseEvent("click"));
  target.scrollIntoView({ block: "center" });
  target.focus();
}
