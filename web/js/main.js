/** Puts the page together. */

/** @import { Catalogue, LookData } from "../types.js" */
/** @import { DeskWork } from "./kept/desk-work.js" */
/** @import { Work } from "./kept/work.js" */
/** @import { Reviews } from "./review/entry.js" */

import { createClient } from "./bridge/client.js";
import { endFirst } from "./first.js";
import { createReader } from "./bridge/reader.js";
import { addChart } from "./chart/entry.js";
import { createChoosing } from "./choose/choosing.js";
import { createPlayer } from "./clip/player.js";
import { catalogue, core, errandBridge, pictureBridge } from "./core.js";
import { NEWER } from "./kept/database.js";
import { createDeskWork } from "./kept/desk-work.js";
import { createKeeping } from "./kept/keeping.js";
import { checkedWork, findWork } from "./kept/work.js";
import { keepAddress, lookFromAddress } from "./look/address.js";
import { firstLookActions } from "./look/first-look.js";
import { pageOf } from "./lesson/address.js";
import { createIncoming } from "./look/incoming.js";
import { libraryList } from "./look/library.js";
import { createLoupe } from "./picture/loupe.js";
import { createScheduler } from "./picture/scheduler.js";
import { createThumbs } from "./picture/thumbs.js";
import { followChromaticity } from "./picture/chromaticity.js";
import { followPins } from "./picture/pins.js";
import { createTrace } from "./picture/trace.js";
import { ANSWER_HASH, REVIEW_HASH } from "./pure/review/marks.js";
import { fetchFirst } from "./reel/demo.js";
import { acceptFiles } from "./reel/drop.js";
import { createFrames } from "./reel/frames.js";
import { addReviews } from "./review/entry.js";
import { createDownload } from "./save/download.js";
import { createJobRunner } from "./save/jobs.js";
import { createSave } from "./save/save.js";
import { createArrivals } from "./session/arrivals.js";
import { createEdits } from "./session/edits.js";
import { askBeforeLeaving } from "./session/leaving.js";
import { workOffline } from "./session/offline.js";
import { beginAnew, goOn, initialState } from "./session/start.js";
import { createStore } from "./session/store.js";
import { createActions } from "./ui/actions.js";
import { createDesk } from "./ui/desk.js";
import { find } from "./ui/dom.js";
import { restoreSurround } from "./ui/surround.js";
import { createTroubleDialog } from "./ui/kept/trouble-dialog.js";
import { PHONE } from "./ui/shape.js";
import { createNotices } from "./ui/notices.js";
import { createJobCards } from "./ui/save/job-cards.js";

/** What to do first, in one line. */
const FIRST = "Drag the grip to compare, press a stage above to change it, or drop a photo of your own.";
const FIRST_ON_PHONE = "Hold the picture to see it as it was. Looks are behind the small squares above.";

restoreSurround();
const store = createStore(initialState());
const reader = createReader(core);
const client = createClient(errandBridge, reader);
const edits = createEdits(store);
const noticesRegion = find("#notices", HTMLElement);
const notices = createNotices(store, noticesRegion);
const actions = createActions({ store, notices });
const download = createDownload(notices);

/**
 * @param {Catalogue} choices
 * @param {Work | null} work
 * @param {boolean} firstVisit
 */
function build(choices, work, firstVisit) {
  store.set({ catalogue: choices });
  const keeping = createKeeping({ work, store, notices, onsession: () => deskWork.saveOwn() });
  const frames = createFrames({
    store,
    bridge: pictureBridge,
    reader,
    edits,
    notices,
    readKept: keeping.readKept,
    keep: keeping.keep,
    onopened: (id, copy) => thumbs.adopt(id, copy).catch(notices.problem),
    onask: () => desk.askEncoding(),
  });
  const deskWork = createDeskWork({ work, keeper: keeping.keeper, store, notices, download, originalOf: frames.originalOf });
  const incoming = createIncoming({ store, client, notices });
  const save = createSave({
    handOver: choices.handOver,
    store,
    jobs: createJobRunner(core),
    cards: createJobCards(noticesRegion),
    source: pictureBridge,
    reader,
    client,
    notices,
    download,
    fileOf: frames.fileOf,
  });
  const desk = createDesk({
    catalogue: choices,
    store,
    actions,
    edits,
    client,
    notices,
    frames,
    save,
    download,
    deskWork,
    ...acceptFiles(createArrivals({ store, frames, incoming, deskWork, edits, notices, takeAnswer: (text) => reviews.takeAnswer(text), keepLooks: (zip) => choosing.keepLooks(zip), takeLesson: (file) => choosing.takeLesson(file) }), choices.handOver.endings),
    onresize: () => scheduler.work(),
    onseen: () => thumbs?.work(),
    onpoint: (x, y) => trace(x, y),
    player: () => player,
  });
  const reviews = addReviews({
    core,
    errands: errandBridge,
    client,
    store,
    notices,
    download,
    fileOf: frames.fileOf,
    reader,
    ownLooks: async () => (await deskWork.looks?.list()) ?? [],
    library: libraryList,
    catalogue: choices,
    edits,
    actions,
  });
  const busy = () => save.busy() || frames.busy() || choosing.busy();
  const heldFrame = () => {
    const { reel, current } = store.get();
    return current !== null && frames.isHeld(current) ? (reel.find((frame) => frame.id === current) ?? null) : null;
  };
  const thumbs = createThumbs({
    bridge: errandBridge,
    reader,
    state: store.get,
    stages: desk.thumbs,
    inputs: desk.inputs,
    reelThumb: desk.reelThumb,
    fileOf: frames.fileOf,
    onfailed: frames.fail,
    onproblem: notices.problem,
  });
  const scheduler = createScheduler({
    bridge: pictureBridge,
    picture: desk.picture,
    state: store.get,
    frame: heldFrame,
    onscopes: desk.instruments.show,
    onmarked: (marked) => store.set({ marked }),
    onproblem: notices.problem,
    onfirst() {
      document.documentElement.dataset["ready"] = "";
      endFirst();
      if (firstVisit) notices.say(PHONE.matches ? FIRST_ON_PHONE : FIRST, { topic: "first", fades: true, ...(PHONE.matches ? {} : { action: { label: "Show me round", run: () => actions.run("tour") } }) });
    },
    onrest() {
      const settle = async () => keeping.keeper()?.settle();
      if (thumbs.begin()) workOffline({ notices, settle, busy });
    },
  });
  const player = createPlayer({ core, store, frames, picture: desk.picture, transport: desk.transport, onproblem: notices.problem });
  actions.add(...createLoupe({ store, bridge: pictureBridge, frame: heldFrame, picture: desk.picture, onproblem: notices.problem }));
  const { chromaticity } = desk.instruments;
  followChromaticity({ store, bridge: pictureBridge, frame: heldFrame, paneSize: desk.picture.paneSize, density: desk.picture.density, show: chromaticity.show, point: chromaticity.point, fail: chromaticity.fail });
  followPins({ store, bridge: pictureBridge, frame: heldFrame });
  addChart({ store, actions, bridge: pictureBridge, client, edits, notices, download, frame: heldFrame, opening: desk.picture.opening });
  const trace = createTrace({ store, bridge: pictureBridge, frame: heldFrame, paneSize: desk.picture.paneSize, show: (rows) => store.set({ trace: rows }) });
  actions.add(...firstLookActions({ store, bridge: pictureBridge, client, edits, notices, frame: heldFrame }));
  store.subscribe(() => {
    scheduler.work();
    thumbs.work();
  });
  pictureBridge.onlost = (words) => {
    scheduler.forget();
    frames.reopen();
    notices.say(words, { topic: "worker" });
  };
  errandBridge.onlost = thumbs.adoptAgain;
  pictureBridge.ongrown = () => {
    scheduler.forget();
    frames.regrown();
  };
  const choosing = createChoosing({ core, catalogue: choices, store, actions, edits, client, notices, frames, source: pictureBridge, reader, player: () => player, download, looks: deskWork.looks });
  askBeforeLeaving(() => busy() || (store.get().kept === "no" && store.get().history.past.length > 0) || store.get().reel.some(({ kept }) => kept === "no"));
  const lesson = () => {
    const chapter = pageOf(location.hash, "lesson");
    if (chapter !== null) choosing.openLesson(chapter).catch(notices.problem);
    const demonstration = pageOf(location.hash, "demonstration");
    if (demonstration !== null) choosing.openShowing(demonstration).catch(notices.problem);
  };
  if (work?.trouble) {
    const dialog = createTroubleDialog({ trouble: work.trouble, deskWork, notices });
    document.body.append(dialog);
    dialog.showModal();
  }
  return { frames, keeping, deskWork, reviews, lesson };
}

/** The look of the address, if it came by a link. */
async function linkedLook() {
  try {
    return await lookFromAddress(client, notices, location.hash);
  } catch (error) {
    notices.problem(error);
    return null;
  }
}

/** A review in the address takes the page over. @returns {Promise<boolean>} whether there is one */
async function reviewed() {
  if (!location.hash.startsWith(REVIEW_HASH)) return false;
  try {
    const { openReview } = await import("./review/opened.js");
    await openReview({ core, hash: location.hash });
    return true;
  } catch (error) {
    notices.problem(error);
    return false;
  }
}

async function start() {
  if (await reviewed()) return;
  /** @type {ReturnType<typeof build> | null} */
  let built = null;
  const finding = findWork({
    onnewer() {
      built?.keeping.keeper()?.stop();
      notices.say(NEWER, { tone: "problem", action: { label: "Reload", run: () => location.reload() } });
    },
  });
  // While the core is compiled: what a first visit shows.
  finding.then((work) => (work?.kept ? undefined : fetchFirst())).catch(() => {});
  const [choices, found] = await Promise.all([catalogue, finding]);
  const work = found && (await checkedWork(found, choices, client));
  const linked = await linkedLook();
  const firstVisit = !work?.kept && !work?.trouble;
  built = build(choices, work, firstVisit);
  const { frames, keeping, deskWork, reviews, lesson } = built;
  let first = work?.kept?.record.current ?? null;
  if (work?.kept && work.history) goOn(store, work.kept.record, work.history);
  else first = await beginAnew(store, client, linked);
  keeping.begin();
  if (work?.kept && linked) receive(linked);
  keepAddress({ store, client, notices, onlook: receive });
  frames.follow();
  if (first) await frames.choose(first);
  // Without a picture there is something to read, and to do.
  if (!store.get().reel.some(({ id, stage }) => id === store.get().current && stage === "ready")) {
    document.documentElement.dataset["ready"] = "";
    endFirst();
  }
  offerOthers(deskWork);
  takeAnswers(reviews);
  addEventListener("hashchange", lesson);
  lesson();
}

/** An answer that came as a link, now or while the page is open; a review then. @param {Reviews} reviews */
function takeAnswers(reviews) {
  const take = () => {
    const { hash, href } = location;
    if (!hash.startsWith(ANSWER_HASH)) return;
    history.replaceState(null, "", "#");
    reviews.takeAnswer(href).catch(notices.problem);
  };
  addEventListener("hashchange", () => {
    // A review takes the page over, which asks first if something would be lost. One that was there from the start could not be read.
    if (location.hash.startsWith(REVIEW_HASH)) location.reload();
    else take();
  });
  take();
}

/** A look that came by a link stands beside one's own, unless it is the same. @param {LookData} look */
function receive(look) {
  const same = JSON.stringify(look) === JSON.stringify(store.get().history.present.look);
  if (!same) store.set({ received: { look, comparing: false } });
}

/** @param {DeskWork} deskWork */
async function offerOthers(deskWork) {
  if (store.get().history.past.length > 0) return;
  const others = (await deskWork.list()).filter(({ id, open, why }) => id !== deskWork.own && !open && why === undefined);
  const [newest] = others;
  if (!newest) return;
  notices.say(`This browser keeps other work: \u201c${newest.name}\u201d${others.length > 1 ? ` and ${others.length - 1} more` : ""}. It is under Start from \u2026, Kept work.`, {
    action: { label: "Go on with it", run: () => void deskWork.turnTo(newest.id).catch(notices.problem) },
    fades: true,
  });
}

start().catch(notices.problem);
