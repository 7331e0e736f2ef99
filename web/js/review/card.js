/** A small card to send along with a link: frame, name, QR code. */

/** @import { Shown } from "../../types.js" */

import { canvasOf, line, sheetOf, shownOf } from "./draw.js";

/** As wide as messengers show a picture without making it smaller (common practice, no source). */
const WIDTH = 1200;
const FOOT = 220;
const EDGE = 24;

/**
 * @param {{ shown: Shown, title: string, line: string, qr: HTMLCanvasElement | null }} given
 * @returns {Shown}
 */
export function cardOf({ shown, title, line: second, qr }) {
  const height = Math.round((WIDTH * shown.height) / shown.width);
  const context = sheetOf(WIDTH, height + FOOT);
  context.drawImage(canvasOf(shown), 0, 0, WIDTH, height);
  // A module is a whole number of pixels, so that its edges stay sharp.
  const side = qr ? Math.max(1, Math.floor((FOOT - 2 * EDGE) / qr.width)) * qr.width : 0;
  // A code that needs more room than the foot has covers the picture's corner.
  if (qr) {
    context.imageSmoothingEnabled = false;
    context.drawImage(qr, WIDTH - EDGE - Math.max(side, 2 * qr.width), height + FOOT - EDGE - Math.max(side, 2 * qr.width), Math.max(side, 2 * qr.width), Math.max(side, 2 * qr.width));
  }
  const room = WIDTH - 3 * EDGE - (qr ? Math.max(side, 2 * qr.width) : 0);
  line(context, title, { x: EDGE, y: height + 90, size: 48, weight: 600, room });
  line(context, second, { x: EDGE, y: height + 150, size: 30, room, fill: "#bcbcbc" });
  return shownOf(context);
}
