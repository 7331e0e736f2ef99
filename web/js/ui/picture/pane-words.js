/** What is said in the picture's place: that a frame is being opened, why it couldn't be, or that there is none. */

/** @import { ReelFrame } from "../../../types.js" */

import { h, text } from "../dom.js";

/** @param {{ onretry: () => void, onopen: () => void, onback: () => void }} wiring onback: what is being opened is given up */
export function createPaneWords({ onretry, onopen, onback }) {
  const words = h("p", {});
  const retry = h("button", { class: "small", type: "button", onclick: onretry }, "Try again");
  const open = h("button", { class: "small", type: "button", onclick: onopen }, "Open frames");
  const back = h("button", { class: "small", type: "button", onclick: onback }, "Cancel");
  const el = h("div", { class: "pane-words", hidden: true }, words, retry, open, back);
  return {
    el,
    /**
     * @param {ReelFrame | null} frame
     * @param {boolean} waiting whether its picture is not there yet
     * @param {boolean} hasBack whether there is a frame to go back to
     */
    update(frame, waiting, hasBack) {
      const failed = frame?.stage === "failed";
      el.hidden = frame !== null && !waiting && !failed;
      el.dataset["says"] = frame === null ? "empty" : failed ? "failed" : "opening";
      retry.hidden = !failed;
      open.hidden = frame !== null;
      back.hidden = !waiting || !hasBack;
      text(words, frame === null ? "No frame is on the reel. Drop some here, or open them." : failed ? `${frame.name} could not be opened: ${frame.reason}` : `Opening ${frame.name} \u2026`);
    },
  };
}
