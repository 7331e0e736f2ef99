/**
 * All that can be done on the page, described once: the bar, the tools beside the picture, the
 * palette and the list of keys are made from it.
 */

/** @import { State } from "../../types.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Sign } from "./icons.js" */
/** @import { Notices } from "./notices.js" */

import { chordOf, isSingle, matches } from "../pure/keys.js";

/** In the order in which they are listed. */
export const GROUPS = /** @type {const} */ (["Frames", "Look", "Picture", "Light path", "Controls", "Page"]);

/** @typedef {typeof GROUPS[number]} Group */

/**
 * @typedef {object} Action
 * @property {string} id
 * @property {string} label what it does, as one would ask for it: "Save or send"
 * @property {string} [short] words for a small button: "Save"
 * @property {Group} group
 * @property {string} [key] "W", "Ctrl+Z", "/"; see `pure/keys.js`
 * @property {string} [orKey] another key for the same
 * @property {string} [also] other words that it is found by
 * @property {Sign} [icon] needed for a place among the tools
 * @property {"bar" | "tools"} [place] where it has a button of its own; all are in the palette
 * @property {boolean} [soughtOnly] only listed when it is looked for by its words
 * @property {() => unknown} run what it gives is waited for, and a problem told
 * @property {() => void} [release] of a key that acts as long as it is held
 * @property {(state: State) => boolean} [enabled]
 * @property {(state: State) => boolean} [pressed] of what is either on or off
 */

/** @typedef {ReturnType<typeof createActions>} Actions */

/** Where it is kept that keys of a single character are off. */
const SINGLE_OFF = "lookwright.single-keys-off";

/**
 * @param {{ store: Store, notices: Notices }} wiring
 */
export function createActions({ store, notices }) {
  /** @type {Action[]} */
  const all = [];
  /** @type {Action | null} */
  let held = null;
  let single = recalled();

  /** @param {Action} action */
  const enabled = (action) => action.enabled?.(store.get()) ?? true;

  /** @param {Action} action */
  function perform(action) {
    if (!enabled(action)) return;
    try {
      Promise.resolve(action.run()).catch(notices.problem);
    } catch (error) {
      notices.problem(error);
    }
  }

  addEventListener("keydown", (event) => {
    if (event.defaultPrevented) return;
    const action = all.find((it) => keysOf(it).some((key) => matches(chordOf(key), event)) && enabled(it));
    const chord = action && keysOf(action).map(chordOf).find((it) => matches(it, event));
    if (!action || !chord || (isSingle(chord) && !single)) return;
    if (taken(event.target, chord.key, isSingle(chord))) return;
    event.preventDefault();
    if (event.repeat && action.release) return;
    perform(action);
    if (action.release) held = action;
  });

  function letGo() {
    held?.release?.();
    held = null;
  }
  addEventListener("keyup", (event) => {
    if (held && keysOf(held).some((key) => chordOf(key).key === event.key.toLowerCase())) letGo();
  });
  addEventListener("blur", letGo);

  return {
    /** @param {...Action} actions; an id that is there already takes its place */
    add(...actions) {
      for (const action of actions) {
        const at = all.findIndex(({ id }) => id === action.id);
        if (at < 0) all.push(action);
        else all[at] = action;
      }
    },

    /** @returns {readonly Action[]} by group, in the order in which they were added */
    all: () => GROUPS.flatMap((group) => all.filter((action) => action.group === group)),

    enabled,
    perform,

    /** @param {string} id */
    run(id) {
      const action = all.find((it) => it.id === id);
      if (action) perform(action);
    },

    /** Whether keys of a single character act. */
    single: () => single,
    /** @param {boolean} on */
    setSingle(on) {
      single = on;
      try {
        if (on) localStorage.removeItem(SINGLE_OFF);
        else localStorage.setItem(SINGLE_OFF, "yes");
      } catch {
        // Then it holds until the page is left.
      }
    },
  };
}

/** @param {Action} action */
function keysOf({ key, orKey }) {
  return [key, orKey].flatMap((it) => it ?? []);
}

function recalled() {
  try {
    return localStorage.getItem(SINGLE_OFF) === null;
  } catch {
    return true;
  }
}

/**
 * Whether a key means something already where it is pressed.
 * @param {EventTarget | null} target
 * @param {string} key
 * @param {boolean} single
 */
function taken(target, key, single) {
  if (!(target instanceof Element)) return false;
  // A dialog has keys of its own, until it is closed: for a moment the focus is still in it then.
  if (document.querySelector("dialog[open]")) return true;
  if (key === " ") return target.closest('button, summary, select, textarea, a, input:not([type="range"]), [role="switch"]') !== null;
  if (single) return target.closest('select, textarea, input:not([type="range"], [type="checkbox"], [type="radio"])') !== null;
  // A text field undoes its own typing.
  return target.closest(".look-name, textarea") !== null;
}
