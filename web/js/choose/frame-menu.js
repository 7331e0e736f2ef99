/** Which frames of the reel are looked at: the current one, or up to three. */

/** @import { FrameId, ReelFrame } from "../../types.js" */

import { h, text } from "../ui/dom.js";

/** Most at once. */
const MOST = 3;

/** @param {{ onchange: () => void }} wiring */
export function createFrameMenu({ onchange }) {
  /** @type {Set<FrameId>} */
  const picked = new Set();
  const words = h("summary", { class: "pill" }, "On 1 frame");
  const list = h("div", { class: "frame-menu-list" });
  const el = h("details", { class: "frame-menu", name: "frame-menu" }, words, list);

  /**
   * @param {readonly ReelFrame[]} reel
   * @param {FrameId | null} current
   * @returns {ReelFrame[]} in the reel's order; the current one, if nothing is picked
   */
  function chosen(reel, current) {
    const found = reel.filter(({ id }) => picked.has(id));
    return found.length > 0 ? found : reel.filter(({ id }) => id === current);
  }

  return {
    el,
    chosen,
    /**
     * @param {readonly ReelFrame[]} reel
     * @param {FrameId | null} current
     */
    update(reel, current) {
      const now = chosen(reel, current);
      text(words, now.length === 1 ? "On 1 frame" : `On ${now.length} frames`);
      el.hidden = reel.length < 2;
      list.replaceChildren(
        ...reel.map(({ id, name }) => {
          const checked = now.some((frame) => frame.id === id);
          const box = h("input", {
            type: "checkbox",
            checked,
            disabled: !checked && now.length >= MOST,
            onchange() {
              for (const frame of now) picked.add(frame.id);
              if (box.checked) picked.add(id);
              else picked.delete(id);
              onchange();
            },
          });
          return h("label", {}, box, h("span", {}, name));
        }),
        h("p", { class: "quiet" }, `Up to ${MOST} at once.`),
      );
    },
  };
}
