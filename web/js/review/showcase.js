/** Pictures that show what a look does: a pair, a strip, a wipe that moves. */

/** @import { Shown } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */
/** @import { Download } from "../save/download.js" */
/** @import { Notices } from "../ui/notices.js" */
/** @import { Made } from "./maker.js" */

import { animated } from "../pure/review/webp.js";
import { fileStem } from "../save/download.js";
import { option } from "../ui/controls/option.js";
import { h } from "../ui/dom.js";
import { canvasOf, line, sheetOf, shownOf } from "./draw.js";
import { encoded } from "./encode.js";

/** Room for a caption, and between pictures, in shares of the width. */
const CAPTION = 0.045;
const GAP = 0.008;
/** The moving wipe: how wide, how many pictures, how long each is shown in ms, and the rest at both ends. */
const LOOP = { width: 720, steps: 24, duration: 50, rest: 700, quality: 80 };
/** In print at 300 dpi: 15 by 10 cm and larger. */
const SIZES = [{ id: "1600", label: "screen" }, { id: "3000", label: "print" }];

/**
 * @param {{ reader: () => Bridge, notices: Notices, download: Download, look: () => { name?: string }, render: () => Made | null,
 *   stages: (side: number) => Promise<{ label: string, shown: Shown }[]> }} wiring
 *   render: what has been rendered, or null; stages: a frame as it leaves each of them
 */
export function createShowcase({ reader, notices, download, look, render, stages }) {
  const size = option("For", SIZES, "1600");
  const captions = h("input", { type: "checkbox", checked: true });
  /** @param {string} label @param {() => Promise<void>} act */
  const button = (label, act) => h("button", { class: "pill", type: "button", disabled: true, onclick: () => act().catch(notices.problem) }, label);
  const buttons = [button("Before and after", pair), button("Strip of frames", strip), button("Light path", path), button("Moving wipe", loop)];
  const el = h(
    "section",
    { class: "showcase" },
    h("h3", {}, "To show"),
    h("p", { class: "quiet" }, "Pictures of what the look does, from the frames above: sRGB, with its profile."),
    size.el,
    h("label", { class: "review-tick" }, captions, h("span", {}, "With captions")),
    h("div", { class: "save-actions" }, ...buttons),
  );

  /** @returns {{ frame: string, before: Shown, after: Shown }[]} */
  function pairs() {
    const made = render();
    if (!made) throw new Error("The pictures are still being rendered; try again in a moment.");
    const letter = made.review.versions[0]?.letter;
    return made.review.frames.flatMap(({ name }, i) => {
      const of = (/** @type {string | undefined} */ kind) => made.shots.find((shot) => shot.frame === i && shot.kind === kind && !shot.crop)?.shown;
      const [before, after] = [of("before"), of(letter)];
      return before && after ? [{ frame: name, before, after }] : [];
    });
  }

  const title = () => look().name || "Untitled look";

  /** @param {Shown} shown @param {string} what */
  async function save(shown, what) {
    download(`${fileStem(title())} - ${what}.jpg`, await encoded(shown, "jpeg", 92, reader), "image/jpeg");
  }

  /**
   * Pictures beside each other, each with a caption below.
   * @param {{ shown: Shown, caption: string }[]} parts
   * @param {number} columns
   */
  function sheet(parts, columns) {
    const width = Number(size.value());
    const gap = Math.round(width * GAP);
    const foot = captions.checked ? Math.round(width * CAPTION) : 0;
    const column = (width - gap * (columns - 1)) / columns;
    const heights = parts.map(({ shown }) => Math.round((column * shown.height) / shown.width));
    /** @type {number[]} */
    const rows = [];
    for (let i = 0; i < parts.length; i += columns) rows.push(Math.max(...heights.slice(i, i + columns)) + foot);
    const context = sheetOf(width, rows.reduce((sum, row) => sum + row, gap * (rows.length - 1)) + foot);
    parts.forEach(({ shown, caption }, i) => {
      const [x, row] = [(i % columns) * (column + gap), Math.floor(i / columns)];
      const y = rows.slice(0, row).reduce((sum, height) => sum + height + gap, 0);
      context.drawImage(canvasOf(shown), x, y, column, heights[i] ?? 0);
      if (foot) line(context, caption, { x: x + gap, y: y + (heights[i] ?? 0) + foot * 0.62, size: foot * 0.42, room: column - 2 * gap });
    });
    if (foot) line(context, title(), { x: gap, y: context.canvas.height - foot * 0.34, size: foot * 0.46, weight: 600, room: width - 2 * gap });
    return shownOf(context);
  }

  async function pair() {
    const [first] = pairs();
    if (!first) return;
    await save(sheet([{ shown: first.before, caption: "before" }, { shown: first.after, caption: "after" }], first.after.width > first.after.height ? 1 : 2), "before and after");
  }

  async function strip() {
    const parts = pairs().map(({ frame, after }) => ({ shown: after, caption: frame }));
    await save(sheet(parts, Math.min(parts.length, 3)), "frames");
  }

  /** A frame on its way, stage by stage. */
  async function path() {
    const parts = await stages(Math.ceil(Number(size.value()) / 3));
    await save(sheet(parts.map(({ label, shown }) => ({ shown, caption: label })), 3), "light path");
  }

  /** A wipe from before to after and back, for ever. */
  async function loop() {
    const [first] = pairs();
    if (!first) return;
    const { before, after } = first;
    const width = Math.min(LOOP.width, after.width);
    const height = Math.round((width * after.height) / after.width);
    const [left, right] = [canvasOf(before), canvasOf(after)];
    const files = [];
    const durations = [];
    for (let i = 0; i < 2 * LOOP.steps; i += 1) {
      const turn = i / LOOP.steps;
      const at = (1 - Math.cos(Math.PI * turn)) / 2;
      const context = sheetOf(width, height);
      context.drawImage(right, 0, 0, width, height);
      const edge = Math.round(at * width);
      if (edge > 0) context.drawImage(left, 0, 0, (left.width * edge) / width, left.height, 0, 0, edge, height);
      context.fillStyle = "#fff";
      if (edge > 0 && edge < width) context.fillRect(edge - 1, 0, 2, height);
      if (captions.checked) {
        line(context, title(), { x: 14, y: height - 16, size: 20, weight: 600, room: width - 28, fill: "#000" });
        line(context, title(), { x: 13, y: height - 17, size: 20, weight: 600, room: width - 28 });
      }
      const file = await encoded(shownOf(context), "webp", LOOP.quality, reader);
      if (file.type !== "image/webp") throw new Error("This browser can\u2019t write WebP; open the page in another one for the moving wipe.");
      files.push(new Uint8Array(await file.arrayBuffer()));
      durations.push(i % LOOP.steps === 0 ? LOOP.rest : LOOP.duration);
    }
    download(`${fileStem(title())} - wipe.webp`, animated(files, { width, height, durations }), "image/webp");
  }

  return {
    el,
    update() {
      const none = !render();
      for (const it of buttons) it.disabled = none;
    },
  };
}
