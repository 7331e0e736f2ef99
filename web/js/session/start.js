/** How a session begins: where it was left, or with the demo reel. */

/** @import { FrameId, LookData, State } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Store } from "./store.js" */

import { libraryLook } from "../look/library.js";
import { begin } from "../pure/history.js";
import { demoReel } from "../reel/demo.js";

/** The look that a first visit shows, and the stock to start from where it can't be had. */
const FIRST_LOOK = "night-ferry";
const FIRST_STOCK = "tungsten-500";
/** Steps that are unfolded when their stage is first opened. */
const UNFOLDED = ["intake.source", "intake.trim", "lens.exposure", "lens.light", "negative.stock", "scan.contrast", "print.positive", "print.white", "screen.display"];

/** @returns {State} */
export function initialState() {
  const roomy = matchMedia("(min-width: 900px)").matches;
  return {
    catalogue: null,
    history: begin({ look: { lookwright: 2 }, delivery: {}, frames: {} }),
    reel: [],
    current: null,
    openStage: roomy ? "scan" : null,
    openSteps: UNFOLDED,
    view: { wipe: 0.38, before: "intake", after: "screen", scale: "fit", centre: { x: 0.5, y: 0.5 } },
    instruments: matchMedia("(min-width: 900px) and (min-height: 760px)").matches,
    dragging: false,
    moving: "no",
    tracePoint: null,
    notices: [],
  };
}

/**
 * Fills the state and says which frame to show.
 * @param {Store} store
 * @param {Client} client
 * @param {Awaited<ReturnType<typeof import("./session.js").recall>>} session
 * @param {LookData | null} linked the address's look: it goes before the session's
 * @returns {Promise<FrameId | undefined>}
 */
export async function furnish(store, client, session, linked) {
  if (session && session.kept.reel.length > 0) {
    const { doc, reel, current, view, instruments } = session.kept;
    const look = linked ?? doc.look;
    /** @type {import("../../types.js").ReelFrame[]} */
    const frames = reel.flatMap((/** @returns {import("../../types.js").ReelFrame[]} */ (frame) => {
      const file = session.files.get(frame.id);
      const { clip, ...rest } = frame;
      if (clip) return file ? [{ ...rest, clip: { ...clip, file } }] : [];
      return file || frame.url ? [{ ...rest, ...(file ? { file } : {}) }] : [];
    }));
    store.set({ history: begin({ ...doc, look }), reel: frames, view, instruments });
    return frames.some((frame) => frame.id === current) ? /** @type {FrameId} */ (current) : frames[0]?.id;
  }
  const [{ first, reel }, starting] = await Promise.all([demoReel(), firstLook(client)]);
  const frames = Object.fromEntries(reel.map((frame) => [frame.id, frame.initial]));
  store.set({ history: begin({ look: linked ?? starting, delivery: {}, frames }), reel });
  return first;
}

/**
 * @param {Client} client
 * @returns {Promise<LookData>}
 */
function firstLook(client) {
  return libraryLook(FIRST_LOOK, client).catch(() => client.startingLook(FIRST_STOCK));
}
