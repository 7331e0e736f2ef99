/** What a person does with frames: bring them, go from one to another, take them off and bring them back. */

/** @import { Failure, FrameId, PictureInfo, SmallCopy } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { ReadKept } from "./originals.js" */

import { createClips } from "./clips.js";
import { createIntake } from "./intake.js";
import { createOpener } from "./opener.js";
import { createSources } from "./originals.js";
import { createReelState } from "./reel.js";

/** @typedef {ReturnType<typeof createFrames>} Frames */

/**
 * @param {{ store: Store, bridge: Bridge, reader: () => Bridge, edits: Edits, notices: Notices,
 *   readKept: ReadKept, keep: (id: FrameId, file: Blob) => Promise<void>,
 *   onopened: (id: FrameId, copy: SmallCopy) => void, onask: (id: FrameId) => void }} wiring
 */
export function createFrames({ store, bridge, reader, edits, notices, readKept, keep, onopened, onask }) {
  const reel = createReelState(store);
  const sources = createSources(readKept);
  const clips = createClips(sources);
  const opener = createOpener({
    store,
    bridge,
    reel,
    sources,
    clips,
    onopened(/** @type {FrameId} */ id, /** @type {PictureInfo} */ info, /** @type {SmallCopy} */ copy) {
      intake.settle(id, info);
      onopened(id, copy);
    },
  });
  const intake = createIntake({ store, reel, sources, clips, opener, notices, reader, keep, onknown: onopened, onask });

  /** Where the current frame stood on the reel. */
  let place = 0;

  /** The current frame may have been taken off the reel, or have come back, by undo as well. */
  function follow() {
    intake.resume();
    const shown = reel.shown();
    const { current } = store.get();
    const at = shown.findIndex(({ id }) => id === current);
    if (at >= 0) {
      place = at;
      return;
    }
    const next = shown[Math.min(place, shown.length - 1)];
    if (next) opener.choose(next.id);
    else if (current !== null) opener.close();
  }

  /**
   * Takes frames off the reel; undo brings them back.
   * @param {readonly FrameId[]} ids
   */
  function remove(ids) {
    for (const id of ids) {
      const frame = reel.find(id);
      clips.drop(id);
      intake.giveUp(id);
      if (frame && !frame.info && !frame.url && (frame.stage === "failed" || !frame.file)) reel.forget(id);
    }
    const left = ids.filter((id) => reel.find(id));
    if (left.length === 0) return;
    const made = left.length === 1 ? `take ${reel.find(left[0] ?? "")?.name} off the reel` : `take ${left.length} frames off the reel`;
    edits.takeAway(left, made);
    const words = left.length === 1 ? `${reel.find(left[0] ?? "")?.name} is off the reel.` : `${left.length} frames are off the reel.`;
    notices.say(words, { action: { label: "Undo", run: () => edits.bringBack(left) } });
  }

  return {
    isHeld: opener.isHeld,
    showStill: opener.showStill,
    reopen: opener.reopen,
    regrown: opener.regrown,
    choose: opener.choose,
    fileOf: sources.fileOf,
    originalOf: sources.originalOf,
    decoder: clips.decoder,
    /** Whether files are still on their way. */
    busy: intake.busy,

    /** From now on the current frame is one that stands on the reel. */
    follow: () => store.subscribe(follow),

    /** @param {File[]} files pictures and clips */
    open: (files) => intake.add(files),

    /**
     * Tries files again that could not be opened, as new ones.
     * @param {readonly Failure[]} failed
     */
    openAgain(failed) {
      const files = failed.flatMap(({ file }) => file ?? []);
      for (const frame of store.get().reel) if (frame.file && files.some((file) => file === frame.file)) reel.forget(frame.id);
      intake.add(files);
    },

    remove,

    /**
     * A frame can't be read.
     * @param {FrameId} id
     * @param {string} reason
     */
    fail: (id, reason) => reel.update(id, { stage: "failed", reason }),

    /** Takes every frame off the reel. */
    removeAll: () => remove(reel.shown().map(({ id }) => id)),
  };
}
