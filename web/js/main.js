/** Puts the page together. */

/** @import { Catalogue } from "../types.js" */

import { keepAddress, lookFromAddress } from "./address.js";
import { createAsks } from "./asks.js";
import { catalogue, core, errandBridge, pictureBridge } from "./core.js";
import { createDarkroom } from "./darkroom.js";
import { fetchFirst } from "./demo.js";
import { find } from "./dom.js";
import { acceptFiles } from "./drop.js";
import { createEdits } from "./edits.js";
import { createFrames } from "./frames.js";
import { addKeys } from "./keys.js";
import { workOffline } from "./offline.js";
import { createMaker } from "./maker.js";
import { createPlayer } from "./player.js";
import { createSave } from "./save.js";
import { keepSession, recall } from "./session.js";
import { furnish, initialState } from "./start.js";
import { createStore } from "./store.js";
import { createThumbs } from "./thumbs.js";
import { createTrace } from "./trace.js";
import { createDesk } from "./ui/desk.js";
import { createJobCards } from "./ui/job-cards.js";
import { createNotices } from "./ui/notices.js";

const store = createStore(initialState());
const asks = createAsks(errandBridge);
const edits = createEdits(store);
const noticesRegion = find("#notices", HTMLElement);
const notices = createNotices(store, noticesRegion);

/**
 * @param {Catalogue} choices
 * @param {boolean} firstVisit
 */
function build(choices, firstVisit) {
  store.set({ catalogue: choices });
  const frames = createFrames({
    store,
    bridge: pictureBridge,
    asks,
    edits,
    notices,
    onopened: (id, copy) => thumbs.adopt(id, copy).catch(notices.problem),
    onremoved: (id) => thumbs.drop(id),
    onask: () => desk.askEncoding(),
  });
  const desk = createDesk({
    catalogue: choices,
    store,
    edits,
    asks,
    notices,
    frames,
    save: createSave({ store, maker: createMaker(core), cards: createJobCards(noticesRegion), source: pictureBridge, errands: errandBridge, asks, notices }),
    pick: acceptFiles(frames.open).pick,
    onroom: () => darkroom.work(),
    onpoint: (x, y) => trace(x, y),
    player: () => player,
  });
  const heldFrame = () => {
    const { reel, current } = store.get();
    return current !== null && frames.isHeld(current) ? (reel.find((frame) => frame.id === current) ?? null) : null;
  };
  const thumbs = createThumbs({
    bridge: errandBridge,
    state: store.get,
    stages: desk.thumbs,
    reelThumb: desk.reelThumb,
    onproblem: notices.problem,
  });
  const darkroom = createDarkroom({
    bridge: pictureBridge,
    picture: desk.picture,
    state: store.get,
    frame: heldFrame,
    onscopes: desk.instruments.show,
    onproblem: notices.problem,
    onfirst() {
      document.documentElement.dataset.ready = "";
      if (firstVisit) desk.picture.hint();
    },
    onrest() {
      if (thumbs.begin()) workOffline();
    },
  });
  const player = createPlayer({ core, store, frames, picture: desk.picture, transport: desk.transport, onproblem: notices.problem });
  const trace = createTrace({ store, bridge: pictureBridge, frame: heldFrame, room: desk.picture.room, show: desk.instruments.trace });
  store.subscribe(() => {
    darkroom.work();
    thumbs.work();
  });
  pictureBridge.onlost = frames.reopen;
  errandBridge.onlost = thumbs.adoptAgain;
  addKeys(edits, player);
  return frames;
}

async function start() {
  const linked = lookFromAddress(asks).catch((error) => {
    notices.problem(error);
    return null;
  });
  const kept = recall();
  // While the core is compiled: what a first visit shows.
  kept.then((session) => (session ? undefined : fetchFirst())).catch(() => {});
  const [choices, session] = await Promise.all([catalogue, kept]);
  const frames = build(choices, session === null);
  const first = await furnish(store, asks, session, await linked);
  keepAddress({ store, asks, edits, notices });
  if (first) await frames.choose(first);
  keepSession(store, session?.bytes.keys() ?? []);
}

start().catch(notices.problem);
