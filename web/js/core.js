/**
 * The core and its two standing workers, begun before the rest of the page is loaded: the document
 * runs this module as soon as it is there.
 */

import { Bridge } from "./bridge/bridge.js";
import { showFirst } from "./first.js";
import { pageFile } from "./page-file.js";

showFirst();

/** Compiled once, for every worker. */
export const core = WebAssembly.compileStreaming(fetch(pageFile("pkg/lookwright_wasm_bg.wasm")));
/** Works on the picture. */
export const pictureBridge = new Bridge(core);
/** Does all that must not wait for the picture. */
export const errandBridge = new Bridge(core);
/** What there is to choose from. */
export const catalogue = errandBridge.ask("catalogue", {});
catalogue.catch(() => {}); // said by whoever waits for it
