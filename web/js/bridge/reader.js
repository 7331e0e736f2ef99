/** A worker that is there while files are read, and gone soon after: what it took of memory goes with it. */

/** @import { Core } from "../../types.js" */

import { Bridge, Superseded } from "./bridge.js";

/** How long it waits for the next file, in ms. */
const REST = 10_000;

/**
 * @param {Core} core
 * @returns {() => Bridge}
 */
export function createReader(core) {
  /** @type {Bridge | null} */
  let bridge = null;
  let timer = 0;

  function rest() {
    if (!bridge?.idle) {
      timer = setTimeout(rest, REST);
      return;
    }
    bridge.end(new Superseded());
    bridge = null;
  }

  return () => {
    bridge ??= new Bridge(core);
    clearTimeout(timer);
    timer = setTimeout(rest, REST);
    return bridge;
  };
}
