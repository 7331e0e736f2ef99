/** The strip under a clip's picture: play and pause, frame by frame, and where in the clip it is. */

/** @import { ClipFrames, State } from "../../types.js" */

import { placeWords } from "../pure/pace.js";
import { attribute, h, text } from "./dom.js";
import { icon } from "./icons.js";

/** @typedef {ReturnType<typeof createTransport>} Transport */

/**
 * @param {{ ontoggle: () => void, onstep: (by: number) => void, onscrub: (at: number) => void, onsettle: (at: number) => void }} wiring
 */
export function createTransport({ ontoggle, onstep, onscrub, onsettle }) {
  const [play, pause] = [icon("play"), icon("pause")];
  const toggle = h("button", { class: "round", type: "button", onclick: ontoggle }, play, pause);
  const button = (/** @type {string} */ label, /** @type {"back" | "forward"} */ sign, /** @type {number} */ by) =>
    h("button", { class: "round", type: "button", "aria-label": label, title: label, onclick: () => onstep(by) }, icon(sign));
  const slider = h("input", {
    class: "slider clip-slider",
    type: "range",
    min: 0,
    step: 1,
    "aria-label": "Frame of the clip",
    oninput: () => onscrub(slider.valueAsNumber),
    onchange: () => onsettle(slider.valueAsNumber),
  });
  slider.style.setProperty("--neutral", "0");
  const place = h("span", { class: "clip-place" });
  const pace = h("span", { class: "quiet clip-pace" });
  const el = h(
    "div",
    { class: "transport", role: "group", "aria-label": "Clip", hidden: true },
    button("One frame back", "back", -1),
    toggle,
    button("One frame forward", "forward", 1),
    slider,
    place,
    pace,
  );

  /**
   * @param {number} number
   * @param {ClipFrames} clip
   */
  function moveTo(number, { frames, rate }) {
    const words = placeWords(number, frames, rate);
    attribute(slider, "max", frames - 1);
    slider.value = String(number);
    slider.style.setProperty("--from", "0");
    slider.style.setProperty("--to", String(frames > 1 ? number / (frames - 1) : 0));
    attribute(slider, "data-moved", number > 0);
    attribute(slider, "aria-valuetext", words);
    text(place, words);
  }

  return {
    el,
    /**
     * The frame that is shown while the clip plays.
     * @param {number} number
     * @param {ClipFrames} clip
     * @param {string} words how it keeps up
     */
    show(number, clip, words) {
      moveTo(number, clip);
      text(pace, words);
    },
    /** @param {State} state */
    update({ reel, current, moving }) {
      const clip = reel.find((frame) => frame.id === current)?.clip;
      el.hidden = !clip;
      if (!clip) return;
      const plays = moving === "playing";
      const label = plays ? "Pause" : "Play";
      attribute(toggle, "aria-label", label);
      attribute(toggle, "title", `${label} (space)`);
      attribute(play, "hidden", plays);
      attribute(pause, "hidden", !plays);
      if (moving === "no") moveTo(clip.number, clip);
      if (!plays) text(pace, moving === "scrubbing" ? "" : `${Number(clip.rate.toFixed(2))} frames/s`);
    },
  };
}
