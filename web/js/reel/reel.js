/** The frames of the session in the page's state: all of them, and those that stand on the reel. */

/** @import { FrameId, ReelFrame, StageSettings, Tell } from "../../types.js" */
/** @import { Store } from "../session/store.js" */

import { arrive, onReel } from "../pure/history.js";

/** @typedef {ReturnType<typeof createReelState>} ReelState */

/** @param {Store} store */
export function createReelState(store) {
  return {
    /** @param {FrameId} id */
    find: (id) => store.get().reel.find((frame) => frame.id === id) ?? null,

    /** @returns {readonly ReelFrame[]} those on the reel, in its order */
    shown: () => onReel(store.get().reel, store.get().history.present),

    /** @param {readonly ReelFrame[]} frames */
    add: (frames) => store.set({ reel: [...store.get().reel, ...frames] }),

    /**
     * @param {FrameId} id
     * @param {Partial<ReelFrame>} news
     */
    update(id, news) {
      store.set({ reel: store.get().reel.map((frame) => (frame.id === id ? { ...frame, ...news } : frame)) });
    },

    /**
     * From now on it is told how much of a frame's file has been read.
     * @param {FrameId} id
     * @returns {Tell}
     */
    reading: (id) => ({ done, total }) => store.set({ reading: { id, share: done / total } }),

    /** @param {FrameId} id whose file is not being read any more */
    read(id) {
      if (store.get().reading?.id === id) store.set({ reading: null });
    },

    /** @param {FrameId} id a frame that was never readable: nothing of it can come back */
    forget: (id) => store.set({ reel: store.get().reel.filter((frame) => frame.id !== id) }),

    /**
     * Gives a frame that has been read for the first time its settings.
     * @param {FrameId} id
     * @param {StageSettings} settings
     */
    settle: (id, settings) => store.set({ history: arrive(store.get().history, id, settings) }),
  };
}
