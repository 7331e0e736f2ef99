/** How a session begins: where it was left, or with the demo reel. */

/** @import { FrameId, History, LookData, ReelFrame, State } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { SessionRecord } from "../pure/kept/record.js" */
/** @import { Store } from "./store.js" */

import { libraryLook } from "../look/library.js";
import { begin } from "../pure/history.js";
import { USUAL_VIEW } from "../pure/kept/record.js";
import { demoReel } from "../reel/demo.js";

/** The look that a first visit shows, and the stock to start from where it can't be had. */
const FIRST_LOOK = "kitchen-window";
const FIRST_STOCK = "overcast";
/** Steps that are unfolded when their stage is first opened. */
const UNFOLDED = ["intake.source", "intake.trim", "lens.exposure", "negative.stock", "print.positive", "screen.display"];

/** @returns {State} */
export function initialState() {
  return {
    catalogue: null,
    history: begin({ look: { lookwright: 3 }, delivery: {}, frames: {} }),
    reel: [],
    current: null,
    openStage: "scan",
    openSteps: UNFOLDED,
    view: USUAL_VIEW,
    instruments: matchMedia("(min-width: 1200px) and (min-height: 760px)").matches,
    panel: "controls",
    bare: false,
    single: true,
    without: null,
    sides: false,
    dragging: false,
    moving: "no",
    tracePoint: null,
    trace: null,
    loupe: null,
    marking: null,
    marked: null,
    pins: [],
    pinSide: 9,
    pinned: [],
    scopeStage: "screen",
    scopeSide: "after",
    chromaticity: false,
    notices: [],
    reading: null,
    received: null,
    failures: [],
    attached: {},
    kept: "yes",
  };
}

/**
 * Goes on with a session.
 * @param {Store} store
 * @param {SessionRecord} record
 * @param {History} history
 */
export function goOn(store, { frames, view, instruments, scopes, attached }, history) {
  /** @type {ReelFrame[]} */
  const reel = frames.map((frame) => ({ ...frame, stage: "ready", kept: frame.url ? "demo" : "yes" }));
  store.set({ history, reel, view, instruments, scopeStage: scopes.stage, scopeSide: scopes.side, chromaticity: scopes.chromaticity, attached });
}

/**
 * Begins anew, with the demo reel.
 * @param {Store} store
 * @param {Client} client
 * @param {LookData | null} linked the address's look: there is nothing yet that it could replace
 * @returns {Promise<FrameId | null>} the frame to show first
 */
export async function beginAnew(store, client, linked) {
  const [demo, starting] = await Promise.all([demoReel().catch(() => ({ first: null, reel: [] })), firstLook(client)]);
  const frames = Object.fromEntries(demo.reel.map((frame) => [frame.id, frame.initial]));
  store.set({ history: begin({ look: linked ?? starting, delivery: {}, frames }), reel: demo.reel });
  return demo.first;
}

/**
 * @param {Client} client
 * @returns {Promise<LookData>}
 */
function firstLook(client) {
  return libraryLook(FIRST_LOOK, client).catch(() => client.startingLook(FIRST_STOCK));
}
