/** Where handles are moved by hand: the nearest is taken hold of, a press alone moves nothing, a double click puts it back. */

/** @import { Place, StepSettings } from "../../../types.js" */
/** @import { Edits } from "../../session/edits.js" */

import { h } from "../dom.js";

/** A handle: where it stands, and what it sets when it is brought elsewhere; x and y 0 ... 1, y upwards. */
/** @typedef {{ el: HTMLElement, of: string[], at: (settings: StepSettings) => { x: number, y: number }, to: (place: { x: number, y: number }, settings: StepSettings, fine: boolean) => [control: string, value: number][] }} Handle */

/**
 * @param {object} wiring
 * @param {string} wiring.kind the last part of its style's name
 * @param {Handle[]} wiring.handles
 * @param {(control: string) => Place} wiring.place
 * @param {Edits} wiring.edits
 * @param {(control: string) => number} wiring.initial what a control is put back to
 * @param {(handle: Handle) => void} [wiring.onhold]
 */
export function createPadField({ kind, handles, place, edits, initial, onhold }) {
  const el = h("div", { class: `pad pad-${kind}`, onpointerdown, ondblclick }, ...handles.map((handle) => handle.el));
  /** @type {StepSettings} */
  let settings = {};
  let off = false;

  /** @param {{ clientX: number, clientY: number }} event */
  function at({ clientX, clientY }) {
    const box = el.getBoundingClientRect();
    return { x: (clientX - box.left) / box.width, y: 1 - (clientY - box.top) / box.height };
  }

  /** @param {{ x: number, y: number }} point @returns {Handle} the nearest one */
  function nearest(point) {
    const far = (/** @type {Handle} */ handle) => {
      const { x, y } = handle.at(settings);
      return Math.hypot(x - point.x, y - point.y);
    };
    return handles.reduce((best, handle) => (far(handle) < far(best) ? handle : best));
  }

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    // A second finger takes hold of nothing.
    if (off || !event.isPrimary || event.button !== 0) return;
    event.preventDefault();
    const handle = nearest(at(event));
    onhold?.(handle);
    // It is taken hold of where it stands: a press alone moves nothing.
    let [pointer, stands] = [at(event), handle.at(settings)];
    el.setPointerCapture(event.pointerId);
    const end = new AbortController();
    el.addEventListener(
      "pointermove",
      (move) => {
        if (move.pointerId !== event.pointerId) return;
        const next = at(move);
        const by = move.shiftKey ? 0.1 : 1;
        stands = { x: stands.x + (next.x - pointer.x) * by, y: stands.y + (next.y - pointer.y) * by };
        pointer = next;
        edits.setValues(handle.to(stands, settings, move.shiftKey).map(([control, value]) => [place(control), value]), true);
      },
      { signal: end.signal },
    );
    /** @param {PointerEvent} last */
    const stop = (last) => {
      if (last.pointerId !== event.pointerId) return;
      end.abort();
      edits.rest();
    };
    el.addEventListener("pointerup", stop, { signal: end.signal });
    el.addEventListener("pointercancel", stop, { signal: end.signal });
  }

  /** @param {MouseEvent} event */
  function ondblclick(event) {
    if (!off) reset(nearest(at(event)));
  }

  /** @param {Handle} handle */
  function reset(handle) {
    edits.setValues(handle.of.map((id) => [place(id), initial(id)]), false);
    edits.rest();
  }

  return {
    el,
    reset,
    /** @param {StepSettings} next @param {boolean} nextOff */
    update(next, nextOff) {
      [settings, off] = [next, nextOff];
      for (const handle of handles) {
        const { x, y } = handle.at(settings);
        handle.el.style.setProperty("--x", String(x));
        handle.el.style.setProperty("--y", String(y));
      }
    },
  };
}
