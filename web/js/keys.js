/** Keys that work everywhere on the page. */

/** @import { Edits } from "./edits.js" */

/** @param {Edits} edits */
export function addKeys(edits) {
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || writesText(event.target)) return;
    const key = event.key.toLowerCase();
    if (key === "z") (event.shiftKey ? edits.redo : edits.undo)();
    else if (key === "y" && !event.shiftKey) edits.redo();
    else return;
    event.preventDefault();
  });
}

/**
 * A text field undoes its own typing, unless nothing has been typed.
 * @param {EventTarget | null} target
 */
function writesText(target) {
  return target instanceof HTMLInputElement && target.type === "text" && target.classList.contains("look-name");
}
