/**
 * What reads and writes the files of clips. All of it needs Mediabunny, which the page fetches once it has a
 * clip: `await import("./media.js")` is the only way to it.
 */

export { clipBytes } from "./clip-size.js";
export { clipFrames, decodable, openClip } from "./decoded.js";
export { statedRate } from "./rate.js";
export { savedClip } from "./saved.js";
