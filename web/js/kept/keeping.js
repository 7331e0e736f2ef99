/** Wires a tab's work to its store: what is new is kept, what doesn't fit is said. */

/** @import { FrameId } from "../../types.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Keeper } from "./keeper.js" */
/** @import { Work } from "./work.js" */

import { reasonOf } from "../bridge/bridge.js";
import { createKeeper } from "./keeper.js";

/**
 * @param {{ work: Work | null, store: Store, notices: Notices, onsession: () => Promise<void> }} wiring
 *   onsession: the person wants the session as a file
 */
export function createKeeping({ work, store, notices, onsession }) {
  /** @type {Keeper | null} */
  let keeper = null;
  let asked = false;
  const action = { label: "Save session", run: () => void onsession().catch(notices.problem) };

  /** The browser may otherwise clear what it keeps when the disk fills up. Some ask the person. */
  function askToPersist() {
    if (asked) return;
    asked = true;
    navigator.storage?.persist?.().catch(() => {});
  }

  /**
   * @param {FrameId} id
   * @param {string} why
   */
  function tellUnkept(id, why) {
    store.set({ reel: store.get().reel.map((frame) => (frame.id === id ? { ...frame, kept: /** @type {const} */ ("no"), keptWhy: why } : frame)) });
    const count = store.get().reel.filter((frame) => frame.kept === "no").length;
    notices.say(`${count === 1 ? "A frame is" : `${count} frames are`} not kept in this browser, and would be gone after a reload: ${why}. Each is marked on the reel.`, { tone: "problem", action, topic: "unkept" });
  }

  return {
    keeper: () => keeper,

    /** @param {FrameId} id */
    readKept: async (id) => (work ? work.originals.read(work.id, id) : null),

    /** Begins once the state is what was kept, or what a session begins with. */
    begin() {
      if (!work) {
        store.set({ kept: "no" });
        return;
      }
      keeper = createKeeper({
        store,
        database: work.database,
        originals: work.originals,
        session: { id: work.id, record: work.kept?.record ?? null },
        onproblem: (words) => notices.say(words, { tone: "problem", action, topic: "unkept" }),
      });
      keeper.tidy().catch(() => {});
      work.shelf.tidy().catch(() => {});
    },

    /**
     * Keeps a frame's original, or says that it is not kept.
     * @param {FrameId} id
     * @param {Blob} file
     */
    async keep(id, file) {
      if (!keeper) return tellUnkept(id, "this browser keeps nothing here");
      try {
        await keeper.keepOriginal(id, file);
        askToPersist();
      } catch (error) {
        tellUnkept(id, reasonOf(error));
      }
    },
  };
}
