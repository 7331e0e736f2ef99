/** QR codes (ISO/IEC 18004). */

import qrcode from "qrcode-generator";

/** Light modules around the code, as the standard asks. */
const QUIET = 4;

/**
 * @param {string} text ASCII
 * @returns {HTMLCanvasElement} one pixel for each module; throws if the text is too long
 */
export function qrCanvas(text) {
  const code = qrcode(0, text.length < 400 ? "M" : "L");
  code.addData(text, "Byte");
  code.make();
  const count = code.getModuleCount();
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = count + 2 * QUIET;
  const context = canvas.getContext("2d");
  if (!context) throw new Error("The browser can\u2019t draw here.");
  context.fillStyle = "#fff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.fillStyle = "#000";
  for (let y = 0; y < count; y += 1) for (let x = 0; x < count; x += 1) if (code.isDark(y, x)) context.fillRect(x + QUIET, y + QUIET, 1, 1);
  return canvas;
}
