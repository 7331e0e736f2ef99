/**
 * The core and its two standing workers, begun before the rest of the page is loaded: the document
 * runs this module as soon as it is there.
 */

/** @import { Core } from "../types.js" */

import { Bridge } from "./bridge/bridge.js";
import { showFirst } from "./first.js";
import { pageFile } from "./page-file.js";

showFirst();

/** @param {string} file */
const compiled = (file) => WebAssembly.compileStreaming(fetch(pageFile(file)));

/** @type {Promise<WebAssembly.Module> | null} */
let whole = null;

/** @type {Core} */
export const core = {
  first: compiled("pkg/first/lookwright_wasm_first_bg.wasm"),
  whole() {
    whole ??= compiled("pkg/lookwright_wasm_bg.wasm");
    // It is tried again when it is next asked for.
    whole.catch(() => (whole = null));
    return whole;
  },
};
/** Works on the picture. */
export const pictureBridge = new Bridge(core);
/** Does all that must not wait for the picture. */
export const errandBridge = new Bridge(core);
/** What there is to choose from. */
export const catalogue = errandBridge.ask("catalogue", {});
catalogue.catch(() => {}); // said by whoever waits for it
