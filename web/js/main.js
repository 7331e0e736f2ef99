/** Puts the page together. */

/** @import { Catalogue } from "../types.js" */

import { createClient } from "./bridge/client.js";
import { createPlayer } from "./clip/player.js";
import { catalogue, core, errandBridge, pictureBridge } from "./core.js";
import { keepAddress, lookFromAddress } from "./look/address.js";
import { createScheduler } from "./picture/scheduler.js";
import { createThumbs } from "./picture/thumbs.js";
import { createTrace } from "./picture/trace.js";
import { fetchFirst } from "./reel/demo.js";
import { acceptFiles } from "./reel/drop.js";
import { createFrames } from "./reel/frames.js";
import { createJobRunner } from "./save/jobs.js";
import { createSave } from "./save/save.js";
import { createEdits } from "./session/edits.js";
import { workOffline } from "./session/offline.js";
import { keepSession, recall } from "./session/session.js";
import { furnish, initialState } from "./session/start.js";
import { createStore } from "./session/store.js";
import { createDesk } from "./ui/desk.js";
import { find } from "./ui/dom.js";
import { addKeys } from "./ui/keys.js";
import { createNotices } from "./ui/notices.js";
import { createJobCards } from "./ui/save/job-cards.js";

const store = createStore(initialState());
const client = createClient(errandBridge);
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
    client,
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
    client,
    notices,
    frames,
    save: createSave({ handOver: choices.handOver, store, jobs: createJobRunner(core), cards: createJobCards(noticesRegion), source: pictureBridge, errands: errandBridge, client, notices }),
    pick: acceptFiles(frames.open, choices.handOver.endings).pick,
    onresize: () => scheduler.work(),
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
  const scheduler = createScheduler({
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
  const trace = createTrace({ store, bridge: pictureBridge, frame: heldFrame, paneSize: desk.picture.paneSize, show: desk.instruments.trace });
  store.subscribe(() => {
    scheduler.work();
    thumbs.work();
  });
  pictureBridge.onlost = frames.reopen;
  errandBridge.onlost = thumbs.adoptAgain;
  addKeys(edits, player);
  return frames;
}

async function start() {
  const linked = lookFromAddress(client).catch((error) => {
    notices.problem(error);
    return null;
  });
  const kept = recall();
  // While the core is compiled: what a first visit shows.
  kept.then((session) => (session ? undefined : fetchFirst())).catch(() => {});
  const [choices, session] = await Promise.all([catalogue, kept]);
  const frames = build(choices, session === null);
  const first = await furnish(store, client, session, await linked);
  keepAddress({ store, client, edits, notices });
  if (first) await frames.choose(first);
  keepSession(store, session?.files.keys() ?? []);
}

start().catch(notices.problem);
