/** Keys that work everywhere on the page. */

/** @import { Edits } from "../session/edits.js" */

/**
 * @param {Edits} edits
 * @param {{ hasClip: () => boolean, toggle: () => void }} player
 */
export function addKeys(edits, player) {
  addEventListener("keydown", (event) => {
    if (event.key === " " && !event.repeat && !event.ctrlKey && !event.metaKey && !event.altKey && player.hasClip() && !takesSpace(event.target)) {
      event.preventDefault();
      return player.toggle();
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey || writesText(event.target)) return;
    const key = event.key.toLowerCase();
    if (key === "z") (event.shiftKey ? edits.redo : edits.undo)();
    else if (key === "y" && !event.shiftKey) edits.redo();
    else return;
    event.preventDefault();
  });
}

/**
 * Whether the space bar means something there already.
 * @param {EventTarget | null} target
 */
function takesSpace(target) {
  return target instanceof Element && target.closest('dialog, button, summary, select, textarea, a, input:not([type="range"]), [role="switch"]') !== null;
}

/**
 * A text field undoes its own typing, unless nothing has been typed.
 * @param {EventTarget | null} target
 */
function writesText(target) {
  return target instanceof HTMLInputElement && target.type === "text" && target.classList.contains("look-name");
}
