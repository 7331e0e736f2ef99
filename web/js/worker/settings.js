/** The settings that this worker renders with, as the core has read them. */

/** @import { RenderSettings as Texts } from "../../types.js" */

import { RenderSettings } from "lookwright-wasm";

/** @type {RenderSettings | null} */
let last = null;

/**
 * @param {Texts} texts only what is another than before is read
 * @returns {RenderSettings} good until the next reading
 */
export function read({ look, frame, delivery }) {
  last ??= new RenderSettings();
  last.read(look, frame, delivery);
  return last;
}
