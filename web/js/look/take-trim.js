/** Takes a suggestion for a frame's trim, in one entry of the history. */

/** @import { FrameId, Value } from "../../types.js" */
/** @import { Edits } from "../session/edits.js" */
/** @import { Store } from "../session/store.js" */

import { onReel } from "../pure/history.js";
import { withValue } from "../pure/settings.js";

/**
 * @param {{ store: Store, edits: Edits }} wiring
 * @param {{ id: FrameId, changes: readonly [control: string, value: Value][], made: string }} suggestion made: what the entry is called
 */
export function takeTrim({ store, edits }, { id, changes, made }) {
  const { catalogue, history: { present }, reel } = store.get();
  // It may have left the reel meanwhile.
  if (!catalogue || !onReel(reel, present).some((frame) => frame.id === id)) return;
  const doc = changes.reduce((now, [control, value]) => withValue(catalogue, now, id, { stage: "intake", step: "trim", control }, value), present);
  edits.setFrames({ [id]: doc.frames[id] ?? {} }, made);
}
