/** Names of the files that a reel is saved as, by a pattern. */

/** What a pattern can hold, and what that is called. */
export const PLACES = /** @type {const} */ ([["{frame}", "the frame's name"], ["{look}", "the look's name"], ["{n}", "its number on the reel"]]);
export const USUAL_PATTERN = "{frame} - {look}";

/** Longest name without its ending, in characters. */
const MOST = 120;

/**
 * @param {string} pattern
 * @param {{ frame: string, look: string, number: number, count: number }} of number: from 1
 * @returns {string} that every file system takes, without an ending; never empty
 */
export function nameBy(pattern, { frame, look, number, count }) {
  const digits = String(number).padStart(String(count).length, "0");
  const filled = pattern.replaceAll("{frame}", frame.replace(/\.[^.]+$/, "")).replaceAll("{look}", look).replaceAll("{n}", digits);
  const safe = filled.replace(/[\\/:*?"<>|\u0000-\u001f]+/g, "-").trim().replace(/^\.+|[. ]+$/g, "");
  return [...safe].slice(0, MOST).join("") || `frame ${digits}`;
}

/**
 * A name for each frame; what would come twice is numbered.
 * @param {string} pattern
 * @param {readonly string[]} frames their names
 * @param {string} look
 * @returns {string[]} no two the same, whatever the case of their letters
 */
export function namesBy(pattern, frames, look) {
  /** @type {Set<string>} */
  const taken = new Set();
  return frames.map((frame, i) => {
    const wanted = nameBy(pattern, { frame, look, number: i + 1, count: frames.length });
    let name = wanted;
    for (let again = 2; taken.has(name.toLowerCase()); again += 1) name = `${wanted} (${again})`;
    taken.add(name.toLowerCase());
    return name;
  });
}
