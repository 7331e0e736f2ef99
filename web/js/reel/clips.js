/** The decoder of the clip that is looked at; that of another is let go. */

/** @import { FrameId, ReelFrame } from "../../types.js" */
/** @import { Decoder } from "../clip/decoder.js" */
/** @import { Sources } from "./originals.js" */

import { openDecoder } from "../clip/decoder.js";

/** @typedef {ReturnType<typeof createClips>} Clips */

/** @param {Sources} sources */
export function createClips(sources) {
  /** @type {{ id: FrameId, decoder: Promise<Decoder> } | null} */
  let open = null;

  function close() {
    open?.decoder.then((decoder) => decoder.close()).catch(() => {});
    open = null;
  }

  return {
    /** @param {ReelFrame} frame @returns {Promise<Decoder>} */
    decoder(frame) {
      if (open?.id === frame.id) return open.decoder;
      close();
      const decoder = sources.originalOf(frame).then((file) => openDecoder(file, frame.clip?.rate || undefined));
      open = { id: frame.id, decoder };
      decoder.catch(() => {
        if (open?.decoder === decoder) open = null;
      });
      return decoder;
    },

    /** @param {FrameId} id */
    drop(id) {
      if (open?.id === id) close();
    },
  };
}
