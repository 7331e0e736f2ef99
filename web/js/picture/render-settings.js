/** The document as the core takes it: three JSON texts, written once per change. */

/** @import { Doc, FrameId, RenderSettings } from "../../types.js" */

/** @type {WeakMap<object, string>} */
const written = new WeakMap();

/** @param {object} data never changed, only replaced */
function json(data) {
  let text = written.get(data);
  if (text === undefined) {
    text = JSON.stringify(data);
    written.set(data, text);
  }
  return text;
}

const UNSET = Object.freeze({});

/**
 * @param {Doc} doc
 * @param {FrameId} frame
 * @returns {RenderSettings}
 */
export function renderSettings(doc, frame) {
  return { look: json(doc.look), frame: json(doc.frames[frame] ?? UNSET), delivery: json(doc.delivery) };
}

/**
 * The same document for a certain screen, in full range: what is encoded from pixels says which one it is for, so it
 * has to be.
 * @param {Doc} doc
 * @param {string} screen
 * @returns {Doc}
 */
export const onScreen = (doc, screen) => ({ ...doc, delivery: { ...doc.delivery, display: { ...doc.delivery["display"], screen, range: "full" } } });

/**
 * The screen that a document's pictures are made for.
 * @param {Doc} doc
 */
export const screenOf = ({ delivery }) => String(delivery["display"]?.["screen"] ?? "rec709");
