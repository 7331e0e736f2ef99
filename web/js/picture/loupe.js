/** The loupe: follows pointer and keys over the picture, and asks for the file's own pixels there. */

/** @import { Loupe, ReelFrame, Size } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Action } from "../ui/actions.js" */
/** @import { Picture } from "../ui/picture/picture.js" */

import { Superseded } from "../bridge/bridge.js";
import { ZOOMS, fetched, inside, sideUnder, windowOf, zoomedBy } from "../pure/loupe.js";
import { placed } from "../pure/viewport.js";
import { createGlass } from "../ui/picture/glass.js";
import { renderSettings } from "./render-settings.js";
import { sidesOf } from "./scheduler.js";

/** What a key moves it by, in device pixels of the glass; ten times as far with Shift. */
const STEP = 8;
/** A press of its key that is longer only lends it, in ms. */
const LENT = 400;

/** @param {{ store: Store, bridge: Bridge, frame: () => ReelFrame | null, picture: Picture, onproblem: (error: unknown) => void }} wiring */
export function createLoupe({ store, bridge, frame, picture, onproblem }) {
  const glass = createGlass();
  picture.el.append(glass.el);
  let busy = false;
  /** What the glass's pixels were made from. */
  let made = "";
  let begun = 0;
  /** Where the pointer was last, in the pane. @type {{ x: number, y: number } | null} */
  let pointer = null;

  const isOn = () => store.get().loupe !== null;
  /** @returns {Size | null} of the picture that is there to be looked at */
  const size = () => (store.get().moving === "no" ? (frame()?.info ?? null) : null);

  /** @param {Loupe | null} loupe */
  const put = (loupe) => store.set({ loupe });

  /** The picture's place under one of the pane. @param {{ x: number, y: number }} at @param {Size} whole */
  function under({ x, y }, whole) {
    const box = placed(store.get().view, whole, picture.paneSize());
    return inside({ x: ((x - box.x) / box.width) * whole.width, y: ((y - box.y) / box.height) * whole.height }, whole);
  }

  /** @param {PointerEvent} event */
  function follow(event) {
    const whole = size();
    const now = store.get().loupe;
    pointer = picture.at(event);
    if (now && whole) put({ ...now, ...under(pointer, whole), side: picture.sideAt(event), finger: event.pointerType !== "mouse" });
  }

  function toggle() {
    begun = performance.now();
    const whole = size();
    if (isOn() || !whole) return put(null);
    const pane = picture.paneSize();
    put({ ...under(pointer ?? { x: pane.width / 2, y: pane.height / 2 }, whole), zoom: 2, side: null, finger: false });
    picture.el.focus();
  }

  picture.el.addEventListener("pointermove", (event) => {
    if (!isOn()) pointer = picture.at(event);
    else if (event.pointerType === "mouse" || event.buttons > 0) follow(event);
  });
  picture.el.addEventListener("pointerdown", (event) => {
    // A finger moves the loupe, and not the picture, nor does its rest show the picture as it was.
    if (!isOn() || event.pointerType === "mouse" || /** @type {Element} */ (event.target).closest("select, button, a, .wipe")) return;
    event.stopImmediatePropagation();
    picture.el.setPointerCapture(event.pointerId);
    follow(event);
  }, { capture: true });

  picture.el.addEventListener("keydown", (event) => {
    const now = store.get().loupe;
    const whole = size();
    if (!now || !whole || event.target !== picture.el || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = Math.max(1, STEP / now.zoom) * (event.shiftKey ? 10 : 1);
    const move = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] }[event.key];
    const zoom = { "+": 1, "=": 1, "-": -1, _: -1 }[event.key];
    if (event.key === "Escape") put(null);
    else if (move) put({ ...now, ...inside({ x: now.x + (move[0] ?? 0), y: now.y + (move[1] ?? 0) }, whole), finger: false });
    else if (zoom) put(zoomedBy(now, zoom));
    else return;
    event.preventDefault();
    event.stopImmediatePropagation();
  }, { capture: true });

  /** What the glass has to show now. */
  function wanted() {
    const now = store.get();
    const current = frame();
    const whole = size();
    if (!now.loupe || !current || !whole) return null;
    // Another frame may be smaller.
    const loupe = { ...now.loupe, ...inside(now.loupe, whole) };
    const sides = sidesOf(now, current.id, renderSettings(now.history.present, current.id));
    const side = sideUnder(loupe, now.view, whole);
    const asked = { id: current.id, settings: sides.settings[side], stage: sides.stages[side] };
    return { loupe, whole, side, asked, key: JSON.stringify([asked, current.clip?.number]) };
  }

  function show() {
    const wish = wanted();
    if (!wish) return glass.hide();
    const { loupe, whole, side, key } = wish;
    if (key !== made) glass.hold(null);
    const box = placed(store.get().view, whole, picture.paneSize());
    const place = { x: box.x + ((loupe.x + 0.5) / whole.width) * box.width, y: box.y + ((loupe.y + 0.5) / whole.height) * box.height };
    glass.show(loupe, picture.placeOn(side, place), picture.room(), side, whole);
  }

  store.subscribe(async () => {
    show();
    if (busy) return;
    busy = true;
    for (;;) {
      const wish = wanted();
      const pane = picture.room();
      if (!wish || (wish.key === made && glass.has(wish.loupe, wish.whole, pane))) break;
      const part = fetched(windowOf(wish.loupe, glass.pixels(pane)), wish.whole);
      try {
        const shown = await bridge.ask("detail", { ...wish.asked, part });
        // Without an answer more of the picture has to be gone through: once more, unless something else is wanted now.
        if (!shown || wanted()?.key !== wish.key) continue;
        made = wish.key;
        glass.hold(shown, part);
        show();
      } catch (error) {
        // The frame was changed meanwhile, or the worker; what comes next asks again.
        if (!(error instanceof Superseded)) onproblem(error);
        break;
      }
    }
    busy = false;
  });

  const enabled = () => size() !== null;
  /** @type {Action[]} */
  const actions = [
    {
      id: "loupe",
      label: "Loupe: the file\u2019s own pixels at the pointer",
      group: "Picture",
      key: "M",
      icon: "find",
      place: "tools",
      also: "magnify zoom pixel close look grain sharp",
      enabled,
      pressed: ({ loupe }) => loupe !== null,
      run: toggle,
      release: () => performance.now() - begun > LENT && put(null),
    },
    {
      id: "loupe-zoom",
      label: "The loupe at 1:1, 2:1 or 4:1: the next one",
      group: "Picture",
      also: "magnify zoom pixel",
      enabled: isOn,
      run() {
        const now = store.get().loupe;
        if (now) put(now.zoom === ZOOMS.at(-1) ? { ...now, zoom: ZOOMS[0] } : zoomedBy(now, 1));
      },
    },
  ];
  return actions;
}
