/** Holding a label shows the picture without what it names: a control, a step, a stage. */

/** @import { StageId, Without } from "../../types.js" */
/** @import { Store } from "../session/store.js" */

import { canBeWithout } from "../pure/without.js";

/** How long a press rests before it is one that holds, in ms. */
const HOLD = 300;
const LABELS = ".row-label, .step-fold, .stage-title, .stage-head";

/**
 * @param {HTMLElement[]} places where labels are
 * @param {Store} store
 */
export function addHolding(places, store) {
  let waiting = 0;

  /** @param {Without | null} without */
  const set = (without) => store.set({ without });

  /** @param {PointerEvent} event */
  function onpointerdown(event) {
    const label = event.target instanceof Element ? event.target.closest(LABELS) : null;
    const without = label && event.button === 0 ? namedBy(label) : null;
    if (!label || !without) return;
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      set(without);
      // The press was no click.
      label.addEventListener("click", swallow, { capture: true, once: true });
      const end = new AbortController();
      for (const name of ["pointerup", "pointercancel", "blur"]) {
        addEventListener(
          name,
          () => {
            end.abort();
            set(null);
            setTimeout(() => label.removeEventListener("click", swallow, { capture: true }));
          },
          { signal: end.signal },
        );
      }
    }, HOLD);
  }

  for (const place of places) {
    place.addEventListener("pointerdown", onpointerdown);
    place.addEventListener("contextmenu", (event) => store.get().without && event.preventDefault());
  }
  for (const name of ["pointerup", "pointercancel"]) addEventListener(name, () => clearTimeout(waiting));

  return {
    /** Without what has the focus, by key. */
    focused() {
      const without = document.activeElement && namedBy(document.activeElement);
      if (without) set(without);
    },
    back: () => set(null),
  };
}

/** @param {Event} event */
function swallow(event) {
  event.preventDefault();
  event.stopPropagation();
}

/**
 * What an element is about.
 * @param {Element} element
 * @returns {Without | null}
 */
function namedBy(element) {
  const within = (/** @type {string} */ name) => element.closest(`[data-${name}]`)?.getAttribute(`data-${name}`) ?? undefined;
  const stage = within("stage");
  if (!stage) return null;
  const [step, control] = [within("step"), within("control")];
  const without = { stage: /** @type {StageId} */ (stage), ...(step ? { step } : {}), ...(control && control !== "amount" ? { control } : {}) };
  return canBeWithout(without) ? without : null;
}
