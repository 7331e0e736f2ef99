/** A row that is longer than its room: it is moved by wheel, by dragging and by keys, and follows what is current. */

/** From where on a press is a drag, in CSS pixels. */
const DRAG = 6;

/**
 * @param {HTMLElement} list whose items have a button each
 * @returns {(item: HTMLElement) => void} brings an item into view
 */
export function addScrolling(list) {
  list.addEventListener(
    "wheel",
    (event) => {
      const by = Math.abs(event.deltaY) > Math.abs(event.deltaX) ? event.deltaY : event.deltaX;
      const most = list.scrollWidth - list.clientWidth;
      if (event.ctrlKey || most <= 0) return;
      event.preventDefault();
      list.scrollLeft += event.deltaMode === WheelEvent.DOM_DELTA_LINE ? by * 30 : by;
    },
    { passive: false },
  );

  let dragged = false;
  list.addEventListener("pointerdown", (event) => {
    // Touch scrolls by itself.
    if (event.pointerType === "touch" || event.button !== 0) return;
    const [from, start] = [event.clientX, list.scrollLeft];
    const stop = new AbortController();
    dragged = false;
    const move = (/** @type {PointerEvent} */ { clientX }) => {
      if (!dragged && Math.abs(clientX - from) < DRAG) return;
      dragged = true;
      list.scrollLeft = start + from - clientX;
    };
    addEventListener("pointermove", move, { signal: stop.signal });
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => stop.abort(), { signal: stop.signal });
  });
  list.addEventListener("dragstart", (event) => event.preventDefault());
  // The press that ends a drag chooses nothing.
  list.addEventListener(
    "click",
    (event) => {
      if (!dragged) return;
      dragged = false;
      event.stopPropagation();
      event.preventDefault();
    },
    { capture: true },
  );

  list.addEventListener("keydown", (event) => {
    const items = [...list.querySelectorAll("li > button:first-child")];
    const at = items.findIndex((item) => item.parentElement?.contains(/** @type {Node} */ (event.target)));
    const to = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: items.length - 1 }[event.key];
    const item = to === undefined ? undefined : items[to];
    if (!(item instanceof HTMLElement)) return;
    event.preventDefault();
    item.focus();
    show(item);
  });

  /** @param {HTMLElement} item */
  function show(item) {
    item.scrollIntoView({ block: "nearest", inline: "nearest", behavior: "auto" });
  }
  return show;
}
