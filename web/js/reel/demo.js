/** The demo reel: frames of a small harbour town, there on the first visit. */

/** @import { ReelFrame } from "../../types.js" */

import { pageFile } from "../page-file.js";
import { fetchBlob } from "./fetched.js";

/**
 * @typedef {object} DemoList
 * @property {string} first id of the frame that is shown first
 * @property {{ id: string, file: string, title: string, encoding: string, range: string, trim: { exposure_stops: number }, credit: string }[]} frames
 */

const LIST = pageFile("demo/frames.json");

/** @type {Promise<{ first: string, reel: ReelFrame[] }> | undefined} */
let asked;

/** @returns {Promise<{ first: string, reel: ReelFrame[] }>} */
export function demoReel() {
  asked ??= fetchReel();
  return asked;
}

/** Brings the first frame into the browser's cache. */
export async function fetchFirst() {
  const { first, reel } = await demoReel();
  const frame = reel.find(({ id }) => id === first);
  if (frame?.url) await fetchBlob(frame.url);
}

/** @returns {Promise<{ first: string, reel: ReelFrame[] }>} */
async function fetchReel() {
  const response = await fetch(LIST).catch(() => null);
  if (!response?.ok) throw new Error("The demo frames could not be loaded. Check the connection, or open a picture of your own.");
  /** @type {DemoList} */
  const list = await response.json();
  const reel = list.frames.map((/** @returns {ReelFrame} */ ({ id, file, title, encoding, range, trim, credit }) => ({
    id: `demo-${id}`,
    name: title,
    stage: "ready",
    kept: "demo",
    url: new URL(file, LIST).pathname,
    initial: { source: { encoding, range }, ...(trim.exposure_stops === 0 ? {} : { trim: { exposure: trim.exposure_stops } }) },
    credit,
  })));
  const first = `demo-${list.first}`;
  const isFirst = (/** @type {ReelFrame} */ { id }) => id === first;
  return { first, reel: [...reel.filter(isFirst), ...reel.filter((frame) => !isFirst(frame))] };
}
