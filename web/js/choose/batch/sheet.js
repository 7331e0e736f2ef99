/** Saving the reel: every frame through the look as a file, into a folder or one zip; stays open, and goes on where it stopped. */

/** @import { Catalogue, Core, FrameId, ReelFrame } from "../../../types.js" */
/** @import { Download } from "../../save/download.js" */
/** @import { Store } from "../../session/store.js" */
/** @import { Bridge } from "../../bridge/bridge.js" */
/** @import { Renderers } from "../renderers.js" */
/** @import { Sizes } from "../sizes.js" */
/** @import { BatchWish } from "./run.js" */
/** @import { Target } from "./target.js" */

import { Superseded, reasonOf } from "../../bridge/bridge.js";
import { onReel } from "../../pure/history.js";
import { PLACES, USUAL_PATTERN, namesBy } from "../../pure/batch/names.js";
import { SIDES, SMALL_TOO, savedSize } from "../../pure/save/size.js";
import { sizeSaid } from "../../pure/health.js";
import { fileStem } from "../../save/download.js";
import { attribute, h, text } from "../../ui/dom.js";
import { optionsUnder } from "../../ui/save/kept-options.js";
import { replaceRows } from "../../ui/rows.js";
import { createSheet } from "../../ui/sheet.js";
import { createEstimate } from "./estimate.js";
import { createBatch } from "./run.js";
import { TargetFull, folderTarget, hasFolders, zipTarget } from "./target.js";

/** @type {{ kept: () => Partial<BatchOptions>, keep: (options: BatchOptions) => void }} */
const options = optionsUnder("lookwright.batch");

/** What becomes of clips. */
const CLIPS = [["clip", "As clips"], ["frames", "As numbered frames"], ["frame", "As the frame that each stands on"]];
const CLIP_WORDS = {
  clip: "Clips are written in Rec.709, with their sound, at this quality.",
  frames: "Every frame of a clip becomes a file, without sound.",
  frame: "A clip is saved as the frame that it stands on.",
};

/** @typedef {{ format: string, quality: number, side: number, pattern: string, exif: boolean, place: boolean, clips: string }} BatchOptions */
/** How far a frame is. @typedef {{ state: "waiting" | "working" | "done" | "failed", words: string }} Standing */

/**
 * @param {{ core: Core, catalogue: Catalogue, store: Store, download: Download, fileOf: (frame: ReelFrame) => Promise<Blob>,
 *   originalOf: (frame: ReelFrame) => Promise<Blob>, renderers: Renderers, reader: () => Bridge, sizes: Sizes }} wiring
 */
export function createBatchSheet({ core, catalogue, store, download, fileOf, originalOf, renderers, reader, sizes }) {
  const { pictures, quality: usual } = catalogue.handOver;
  /** @type {Map<FrameId, Standing>} */
  const standing = new Map();
  /** @type {Set<FrameId>} */
  const left = new Set();
  /** Of clips that become files for each frame, the first that is not there yet. @type {Map<FrameId, number>} */
  const reached = new Map();
  /** @type {ReturnType<typeof createBatch> | null} */
  let batch = null;
  /** Where it goes, kept so that it can go on. @type {Target | null} */
  let target = null;
  let problem = "";
  const estimate = createEstimate({ renderers, reader, sizes, originalOf });
  /** How many bytes it will take, in words, and what that is of. */
  let estimated = "";
  let estimatedOf = "";
  /** Whether frames are still being looked at for their sizes. */
  let looking = () => false;
  const kept = options.kept();

  const format = menu("Format", pictures.map(({ id, label }) => [id, label]), kept.format ?? "jpeg");
  const quality = h("input", { type: "range", min: 50, max: 100, step: 1, value: kept.quality ?? usual, "aria-label": "Quality", oninput: onoption });
  const qualityWords = h("output", {});
  const side = menu("Size", SIDES.map((pixels) => [String(pixels), pixels === 0 ? "Full size" : `${pixels} px on the longer side`]), String(kept.side ?? 0));
  const clips = menu("Clips", CLIPS, kept.clips ?? "clip");
  const clipsRow = row("Clips", clips);
  const pattern = h("input", { class: "batch-pattern", type: "text", value: kept.pattern ?? USUAL_PATTERN, spellcheck: "false", autocomplete: "off", "aria-label": "Names", oninput: onoption });
  const exif = h("input", { type: "checkbox", checked: kept.exif ?? false, onchange: onoption });
  const place = h("input", { type: "checkbox", checked: kept.place ?? false, onchange: onoption });
  const exifWords = h("span", {});
  const sum = h("p", {});
  const rows = h("ul", { class: "batch-rows" });
  const bar = h("progress", { max: 1, value: 0, hidden: true, "aria-label": "Saving the reel" });
  const said = h("p", { role: "status" });
  const toFolder = h("button", { class: "pill pill-lit", type: "button", onclick: () => begin("folder") }, "Save into a folder");
  const toZip = h("button", { class: "pill", type: "button", onclick: () => begin("zip") }, "Save as a zip");
  const goOn = h("button", { class: "pill pill-lit", type: "button", onclick: () => run() }, "Go on");
  const handOver = h("button", { class: "pill", type: "button", onclick: () => target?.finish() }, "Save what is done");
  const cancel = h("button", { class: "pill", type: "button", onclick: () => batch?.cancel() }, "Cancel");
  const sheet = createSheet({ title: "Save the reel", kind: "batch", onclose: () => estimate.rest() });
  sheet.body.append(
    h(
      "div",
      { class: "batch-options" },
      row("Format", format),
      row("Quality", h("span", { class: "batch-beside" }, quality, qualityWords)),
      row("Size", side),
      clipsRow,
      row("Names", pattern, h("p", { class: "quiet" }, PLACES.map(([place, words]) => `${place}: ${words}`).join("; "))),
      h("label", { class: "batch-row" }, h("span", {}, "EXIF"), h("span", { class: "batch-beside" }, exif, exifWords)),
      h("label", { class: "batch-row" }, h("span", {}), h("span", { class: "batch-beside" }, place, "and where they were taken")),
      sum,
    ),
    rows,
  );
  sheet.el.append(h("div", { class: "wall-foot" }, bar, said, h("div", { class: "wall-tools" }, cancel, handOver, goOn, toZip, toFolder)));

  /**
   * @param {string} label
   * @param {string[][]} entries
   * @param {string} value
   */
  function menu(label, entries, value) {
    const el = h("select", { class: "slot-menu", "aria-label": label, onchange: onoption }, ...entries.map(([id, words]) => h("option", { value: id, selected: id === value }, words ?? "")));
    return el;
  }

  /** @param {string} label @param {...HTMLElement} parts */
  function row(label, ...parts) {
    return h("div", { class: "batch-row" }, h("span", { "aria-hidden": "true" }, label), h("span", {}, ...parts));
  }

  const present = () => store.get().history.present;
  const reel = () => onReel(store.get().reel, present()).filter(({ stage }) => stage !== "failed");
  const chosen = () => reel().filter(({ id }) => !left.has(id));
  const kind = () => pictures.find(({ id }) => id === format.value) ?? /** @type {typeof pictures[number]} */ (pictures[0]);

  /** @returns {BatchWish} */
  const wish = () => ({ format: kind(), quality: Number(quality.value), side: SMALL_TOO.includes(format.value) ? Number(side.value) : 0, exif: exif.checked && format.value === "jpeg", place: place.checked, clips: /** @type {BatchWish["clips"]} */ (clips.value) });

  /** Other options make other files: what was done is to be done again. */
  function onoption() {
    standing.clear();
    reached.clear();
    target = null;
    problem = "";
    options.keep({ format: format.value, quality: Number(quality.value), side: Number(side.value), pattern: pattern.value, exif: exif.checked, place: place.checked, clips: clips.value });
    show();
  }

  function show() {
    const frames = reel();
    const names = namesBy(pattern.value || USUAL_PATTERN, frames.map(({ name }) => name), present().look.name ?? "look");
    const busy = batch !== null;
    const { extension } = kind();
    clipsRow.hidden = !frames.some(({ clip }) => clip);
    for (const control of [format, quality, side, clips, pattern, exif, place]) control.disabled = busy;
    side.disabled ||= !SMALL_TOO.includes(format.value);
    quality.disabled ||= format.value !== "jpeg" && !(clips.value === "clip" && !clipsRow.hidden);
    exif.disabled ||= format.value !== "jpeg";
    place.disabled = exif.disabled || !exif.checked;
    text(qualityWords, quality.disabled && !busy ? "full" : quality.value);
    text(exifWords, format.value === "jpeg" ? "Keep the date, camera and lens of photos" : "A JPEG can keep the date, camera and lens of photos");
    replaceRows(
      rows,
      frames.map((frame, i) => {
        const { state, words } = standing.get(frame.id) ?? { state: "waiting", words: "" };
        const box = h("input", { type: "checkbox", checked: !left.has(frame.id), disabled: busy, "aria-label": `Save ${frame.name}`, onchange: () => (box.checked ? left.delete(frame.id) : left.add(frame.id), show()) });
        return h("li", { "data-state": state }, box, h("span", { class: "batch-name" }, fileSaid(frame, names[i] ?? "", extension)), h("span", { class: "quiet" }, words || sizeOf(frame)));
      }),
    );
    const open = chosen().filter(({ id }) => standing.get(id)?.state !== "done");
    const done = chosen().length - open.length;
    void tellBytes();
    tellSum();
    const failed = chosen().filter(({ id }) => standing.get(id)?.state === "failed").length;
    const listed = failed > 0 ? `, ${failed} could not be made` : "";
    text(said, busy || done + failed > 0 || problem ? `${done} of ${chosen().length} saved${target ? ` into ${target.words}` : ""}${listed}.${problem ? ` ${problem}` : ""}` : "");
    const stopped = !busy && target !== null && open.length > 0;
    bar.hidden = !busy;
    cancel.hidden = !busy;
    goOn.hidden = !stopped;
    handOver.hidden = !(stopped && target?.words === "one zip" && done > 0);
    toFolder.hidden = busy || stopped || !hasFolders();
    toZip.hidden = busy || stopped;
    for (const button of [toFolder, toZip]) button.disabled = chosen().length === 0;
    attribute(toZip, "class", hasFolders() ? "pill" : "pill pill-lit");
  }

  /** @param {ReelFrame} frame @param {string} name @param {string} extension */
  function fileSaid({ clip }, name, extension) {
    if (!clip || wish().clips === "frame") return `${name}.${extension}`;
    return wish().clips === "clip" ? `${name}, as a clip` : `${name} 1 to ${clip.frames}.${extension}`;
  }

  /** @param {ReelFrame} frame */
  function sizeOf(frame) {
    const full = sizes.of(frame);
    if (!full) return "";
    const { width, height } = savedSize(full, wish().side);
    return `${width} \u00d7 ${height}`;
  }

  /** Says how many bytes it will take, as soon as that is known of all that is chosen. */
  async function tellBytes() {
    const files = chosen();
    const waits = looking() && !files.every(sizes.of);
    const key = JSON.stringify([wish(), waits, files.map((frame) => [frame.id, sizes.of(frame)])]);
    if (key === estimatedOf || batch) return;
    estimatedOf = key;
    estimated = "";
    if (waits) return estimate.rest();
    const found = await estimate.of(files, present(), wish());
    if (estimatedOf !== key) return;
    estimated = found ? ` ${found.exact ? "" : "About "}${sizeSaid(found.bytes)}${found.clips ? "" : ", and the clips"}.` : "";
    tellSum();
  }

  function tellSum() {
    text(sum, `${chosen().length} of ${reel().length} frames, ${kind().label}.${estimated}${clipsRow.hidden ? "" : ` ${CLIP_WORDS[wish().clips]}`}`);
  }

  /** @param {"folder" | "zip"} where */
  async function begin(where) {
    standing.clear();
    reached.clear();
    problem = "";
    try {
      target = where === "zip" ? zipTarget(`${fileStem(present().look.name ?? "look")} - reel.zip`, download) : await folderTarget();
    } catch (error) {
      problem = reasonOf(error);
      target = null;
    }
    if (target) await run();
    else show();
  }

  /** Saves what is not saved yet. */
  async function run() {
    const into = target;
    if (!into || batch) return;
    const frames = reel();
    const names = namesBy(pattern.value || USUAL_PATTERN, frames.map(({ name }) => name), present().look.name ?? "look");
    const now = createBatch({ core, doc: present(), wish: wish(), reached, fileOf, originalOf });
    batch = now;
    problem = "";
    for (const [i, frame] of frames.entries()) {
      if (left.has(frame.id) || standing.get(frame.id)?.state === "done") continue;
      standing.set(frame.id, { state: "working", words: "being saved \u2026" });
      show();
      try {
        const name = await now.save({ frame, name: names[i] ?? frame.name }, into, (share) => (bar.value = share));
        standing.set(frame.id, { state: "done", words: `saved as ${name}` });
      } catch (error) {
        if (error instanceof Superseded) {
          standing.delete(frame.id);
          problem = "It was cancelled; what is saved stays.";
          break;
        }
        if (error instanceof TargetFull) {
          // It is not the frame's fault.
          standing.delete(frame.id);
          problem = `${error.message} What is not saved is listed; what is stays.`;
          break;
        }
        standing.set(frame.id, { state: "failed", words: reasonOf(error) });
      }
    }
    now.end();
    batch = null;
    const whole = chosen().every(({ id }) => standing.get(id)?.state === "done");
    if (whole) await into.finish().catch((error) => (problem = reasonOf(error)));
    show();
  }

  return {
    busy: () => batch !== null,
    open() {
      estimatedOf = "";
      looking = sizes.watch(reel(), sheet.isOpen, () => batch || show());
      show();
      sheet.open();
    },
  };
}
