/** The whole page's pieces, wired to the store. */

/** @import { Catalogue, View } from "../../types.js" */
/** @import { Client } from "../bridge/client.js" */
/** @import { Player } from "../clip/player.js" */
/** @import { DeskWork } from "../kept/desk-work.js" */
/** @import { Frames } from "../reel/frames.js" */
/** @import { Save } from "../save/save.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Actions } from "./actions.js" */
/** @import { Notices } from "./notices.js" */

import { libraryList, libraryLook } from "../look/library.js";
import { NAME_MOST, shortened } from "../pure/kept/limits.js";
import { fitScale, zoomed } from "../pure/viewport.js";
import { deskActions } from "./desk-actions.js";
import { attribute, find } from "./dom.js";
import { createFailures } from "./failures.js";
import { createHeader } from "./header.js";
import { createInstruments } from "./instruments.js";
import { createJudgingCards } from "./judging-cards.js";
import { createKeptDialog } from "./kept/kept-dialog.js";
import { createKeyList } from "./key-list.js";
import { createPalette } from "./palette.js";
import { createLightPath } from "./path/light-path.js";
import { addGestures } from "./picture/gestures.js";
import { createHelp } from "./help.js";
import { createTour } from "./tour.js";
import { createHistoryList } from "./history-list.js";
import { addHolding } from "./without.js";
import { createPicture } from "./picture/picture.js";
import { createSideLabels } from "./picture/side-labels.js";
import { createReceived } from "./received.js";
import { createReel } from "./reel.js";
import { createSaveDialog } from "./save/save-dialog.js";
import { DESK } from "./shape.js";
import { createStartSheet } from "./start-sheet.js";
import { createPanelEdge } from "./panel-width.js";
import { createTools, isAt } from "./tools.js";
import { createTransport } from "./transport.js";

/** What the tools take beside or below the picture, in CSS pixels. */
const TOOLS = 56;

/**
 * @param {{ catalogue: Catalogue, store: Store, actions: Actions, edits: Edits, client: Client, notices: Notices, frames: Frames,
 *   save: Save, download: import("../save/download.js").Download, deskWork: DeskWork, pick: () => void, photograph: () => void, onresize: () => void, onseen: () => void, onpoint: (x: number, y: number) => void, player: () => Player }} wiring
 */
export function createDesk({ catalogue, store, actions, edits, client, notices, frames, save, download, deskWork, pick, photograph, onresize, onseen, onpoint, player }) {
  const view = () => store.get().view;
  const size = () => {
    const { reel, current } = store.get();
    return reel.find((frame) => frame.id === current)?.info ?? null;
  };
  const onview = (/** @type {View} */ next) => store.set({ view: next });

  const picture = createPicture({
    onresize() {
      show();
      onresize();
    },
    onwipe: (wipe) => onview({ ...view(), wipe: Math.min(1, Math.max(0, wipe)) }),
    onretry: () => frames.choose(store.get().current ?? ""),
    onopen: pick,
    onback: frames.choose,
    smallOf: (id) => reel.painted(id),
  });
  addGestures(picture, { view, size, onview, onpoint });

  const dialog = createSaveDialog({ catalogue, save, onsession: deskWork.saveOwn, client, notices, region: find("#notices", HTMLElement), state: store.get });
  const keptDialog = createKeptDialog({ deskWork, notices });
  const start = createStartSheet({
    catalogue,
    library: libraryList(),
    onkept: () => keptDialog.open().catch(notices.problem),
    onstock: (stock) => client.startingLook(stock).then(edits.setLook, notices.problem),
    onlook(id) {
      libraryLook(id, client).then((look) => {
        edits.setLook(look);
        if (look.note) notices.say(look.note);
      }, notices.problem);
    },
  });
  const header = createHeader({
    catalogue,
    actions,
    onname(name) {
      const short = shortened(name, NAME_MOST);
      if (short !== name) notices.say(`The name was shortened to ${NAME_MOST} characters.`);
      edits.setName(short);
    },
    onframes: () => actions.run("frames"),
  });
  const path = createLightPath({ catalogue, store, edits, client });
  const labels = createSideLabels(catalogue, (side, stage) => onview({ ...view(), [side]: stage }));
  const reel = createReel({ onchoose: frames.choose, onremove: (id) => frames.remove([id]), onadd: pick, onphotograph: photograph, onseen });
  const received = createReceived({
    onuse() {
      const now = store.get().received;
      store.set({ received: null });
      if (now) edits.setLook(now.look);
    },
    oncompare(comparing) {
      const now = store.get().received;
      if (now) store.set({ received: { ...now, comparing } });
    },
    onaway: () => store.set({ received: null }),
  });
  const failures = createFailures({
    onretry(failed) {
      store.set({ failures: [] });
      frames.openAgain(failed);
    },
    onaway: () => store.set({ failures: [] }),
  });
  /** @param {number} devicePixels for each of the picture's; 0 fits it */
  function zoom(devicePixels) {
    const whole = size();
    const paneSize = picture.paneSize();
    const middle = { x: paneSize.width / 2, y: paneSize.height / 2 };
    if (whole) onview(zoomed(view(), devicePixels / picture.density(), middle, whole, paneSize, picture.density()));
  }
  const tools = createTools({ actions, density: picture.density, paneSize: picture.paneSize });
  const transport = createTransport({
    ontoggle: () => player().toggle(),
    onstep: (by) => player().step(by),
    onscrub: (at) => player().scrub(at),
    onsettle: (at) => player().settle(at),
  });
  const judging = createJudgingCards({ catalogue, store, actions, size, download });
  const instruments = createInstruments({ catalogue, onread: store.set, cards: judging.cards });
  picture.opening.append(...labels.parts);

  const palette = createPalette(actions);
  const holding = addHolding([find("#path", HTMLElement), find("#panel", HTMLElement)], store);
  actions.add(
    ...deskActions({
      catalogue,
      store,
      edits,
      pick,
      photograph,
      zoom,
      player,
      remove: () => frames.remove([store.get().current ?? ""]),
      removeAll: frames.removeAll,
      isZoom: (pixels) => isAt(view(), pixels, picture.density()),
      isDesk: () => DESK.matches,
      hold: picture.hold,
      holding,
      start: start.open,
      save: () => player().pause().then(dialog.open),
      kept: keptDialog.open,
      palette: palette.open,
      keys: createKeyList(actions).open,
      help: createHelp({ actions, client }).open,
      tour: createTour({ catalogue, store, notices }),
    }),
  );

  const desk = find("#desk", HTMLElement);
  const history = createHistoryList({ onjump: edits.jump, onclose: () => actions.run("history") });
  const table = find("#table", HTMLElement);
  find("#bar", HTMLElement).append(...header.parts);
  find("#path", HTMLElement).append(path.el);
  table.append(picture.el, tools.el, received.el, transport.el);
  find("#panel", HTMLElement).append(path.panel, history.el, createPanelEdge(desk, () => show()));
  find("#dock", HTMLElement).append(reel.el);
  find("#instruments", HTMLElement).append(...instruments.parts);
  find("#notices", HTMLElement).append(failures.el);
  document.body.append(dialog.el, keptDialog.el, start.el);

  /** Tools stand where they take least from the picture: beside it or below it. */
  function placeTools() {
    const whole = size();
    const room = { width: table.clientWidth, height: table.clientHeight - received.el.offsetHeight - transport.el.offsetHeight };
    const [beside, below] = [{ ...room, width: room.width - TOOLS }, { ...room, height: room.height - TOOLS }];
    const lies = whole !== null && fitScale(whole, below) > fitScale(whole, beside);
    attribute(table, "data-tools", lies ? "below" : "beside");
  }

  function show() {
    const state = store.get();
    const panel = state.panel === "frames" && DESK.matches ? "controls" : state.panel;
    attribute(desk, "data-panel", panel === "controls" && state.openStage === null ? "none" : panel);
    attribute(desk, "data-strip", state.instruments && panel !== "instruments");
    attribute(desk, "data-bare", state.bare);
    attribute(desk, "data-sides", state.sides);
    placeTools();
    header.update(state);
    path.update(state);
    history.update(state);
    labels.update(state);
    reel.update(state);
    received.update(state);
    failures.update(state);
    tools.update(state, size());
    transport.update(state);
    instruments.update(state);
    judging.update(state);
    picture.update(state.view, size(), state);
  }
  store.subscribe(show);

  return {
    picture,
    transport,
    instruments,
    thumbs: path.thumbs,
    inputs: path.inputs,
    reelThumb: reel.thumb,
    /** Takes the person to where a frame's encoding is chosen. */
    askEncoding() {
      store.set({ openStage: "intake", panel: "controls" });
      queueMicrotask(() => {
        const menu = document.querySelector('[data-stage="intake"] [data-step="source"] select');
        if (menu instanceof HTMLElement) menu.focus();
      });
    },
  };
}
