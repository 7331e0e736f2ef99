/** The page's one state: plain data, replaced by patches, told to listeners once per microtask. */

/** @import { State } from "../../types.js" */

/** @typedef {ReturnType<typeof createStore>} Store */

/**
 * @param {State} initial
 */
export function createStore(initial) {
  let state = initial;
  let queued = false;
  /** @type {Set<(state: State) => void>} */
  const listeners = new Set();

  function flush() {
    queued = false;
    for (const listener of listeners) listener(state);
  }

  return {
    /** @returns {State} */
    get: () => state,

    /**
     * Changes some of the state; values that are the same already change nothing.
     * @param {Partial<State>} patch
     */
    set(patch) {
      const keys = /** @type {(keyof State)[]} */ (Object.keys(patch));
      if (keys.every((key) => Object.is(state[key], patch[key]))) return;
      state = { ...state, ...patch };
      if (queued) return;
      queued = true;
      queueMicrotask(flush);
    },

    /** @param {(state: State) => void} listener */
    subscribe(listener) {
      listeners.add(listener);
      listener(state);
    },
  };
}
