/** A finished picture that is smaller than its frame. */

/** @import { Doc, FrameId } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

import { onScreen, renderSettings } from "../picture/render-settings.js";

/**
 * @param {Bridge} worker that holds the frame
 * @param {{ doc: Doc, id: FrameId, side: number, format: string, quality: number }} wish side: the longer one, in pixels
 * @returns {Promise<Blob>}
 */
export async function smaller(worker, { doc, id, side, format, quality }) {
  // What is encoded from pixels says that it is sRGB, so it has to be.
  const settings = renderSettings(onScreen(doc, "srgb"), id);
  const copy = await worker.ask("copy", { id, box: { width: side, height: side } });
  await worker.ask("adopt", { id: "small", copy });
  const { pixels, width } = await worker.ask("preview", { id: "small", settings, stage: "screen", width: copy.width, height: copy.height, quick: false });
  await worker.ask("drop", { id: "small" });
  return new Blob([await worker.ask("encodePicture", { pixels, width, format, quality })]);
}
