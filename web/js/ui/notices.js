/** Short sentences to the person: what was done, what went wrong, what can be changed. */

/** @import { Notice, State } from "../../types.js" */
/** @import { Store } from "../session/store.js" */

import { Superseded } from "../bridge/bridge.js";
import { h } from "./dom.js";
import { icon } from "./icons.js";
import { keepRoom, waits } from "./notice-room.js";

/** How long a plain notice stays, in milliseconds. Problems and questions stay until put away. */
const STAY = 9000;
/** How many there are at most, of those that go by themselves, and of all. */
const MOST_PASSING = 3;
const MOST = 8;

/** @typedef {ReturnType<typeof createNotices>} Notices */

/**
 * @param {Store} store
 * @param {HTMLElement} region
 */
export function createNotices(store, region) {
  let last = 0;
  /** @type {Map<number, HTMLElement>} */
  const shown = new Map();
  keepRoom(region);

  /** @param {number} id */
  function drop(id) {
    store.set({ notices: store.get().notices.filter((notice) => notice.id !== id) });
  }

  /** It stays for a while once it can be seen. @param {number} id */
  function pass(id) {
    const element = shown.get(id);
    if (element && waits(element)) setTimeout(pass, STAY, id);
    else drop(id);
  }

  /**
   * @param {string} words
   * @param {Partial<Pick<Notice, "tone" | "action">> & { stays?: boolean, fades?: boolean, topic?: string }} [more]
   *   stays: until it is put away; fades: although it asks something; topic: what it takes the place of
   */
  function say(words, { tone = "plain", action, stays = false, fades = false, topic } = {}) {
    last += 1;
    const id = last;
    const passes = tone === "plain" && (!action || fades) && !stays;
    const others = store.get().notices.filter((notice) => notice.text !== words && (!topic || notice.topic !== topic));
    const oldest = others.length < MOST_PASSING ? undefined : others.find((notice) => notice.passes);
    const first = oldest ?? (others.length < MOST ? undefined : others[0]);
    const notice = { id, text: words, tone, passes, ...(action ? { action } : {}), ...(topic ? { topic } : {}) };
    store.set({ notices: [...others.filter((other) => other !== first), notice] });
    if (passes) setTimeout(pass, STAY, id);
  }

  /** @param {Notice} notice */
  function card({ id, text, tone, action }) {
    const act = action
      ? [h("button", { class: "small", type: "button", onclick: () => (drop(id), action.run()) }, action.label)]
      : [];
    const away = h("button", { class: "round", type: "button", "aria-label": "Put notice away", onclick: () => drop(id) }, icon("close"));
    return h("div", { class: `notice notice-${tone}` }, h("p", {}, text), ...act, away);
  }

  store.subscribe((/** @type {State} */ { notices }) => {
    for (const [id, element] of shown) {
      if (notices.some((notice) => notice.id === id)) continue;
      element.remove();
      shown.delete(id);
    }
    for (const notice of notices) {
      if (shown.has(notice.id)) continue;
      const element = card(notice);
      shown.set(notice.id, element);
      region.append(element);
    }
  });

  return {
    say,
    /** @param {unknown} error */
    problem(error) {
      // What nobody waits for any more is nobody's problem.
      if (error instanceof Superseded) return;
      say(error instanceof Error ? error.message : String(error), { tone: "problem" });
    },
  };
}
