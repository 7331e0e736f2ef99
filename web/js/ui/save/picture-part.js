/** The picture's part of the save dialog: format, quality, size, what the camera wrote, and what comes of it. */

/** @import { FileChoice, HandOver, ReelFrame, State } from "../../../types.js" */
/** @import { Save } from "../../save/save.js" */

import { screenOf } from "../../picture/render-settings.js";
import { sizeSaid } from "../../pure/health.js";
import { SIDES, SMALL_TOO, plainBytes, savedSize } from "../../pure/save/size.js";
import { option } from "../controls/option.js";
import { h, newId, text } from "../dom.js";
import { keepOptions, keptOptions } from "./kept-options.js";

/** How long the options rest before the file's size is tried, in ms. */
const PAUSE = 250;

/**
 * @param {{ handOver: HandOver, save: Save, state: () => State, onchange: () => void }} wiring onchange: other options are chosen
 */
export function createPicturePart({ handOver, save, state, onchange }) {
  const kept = keptOptions();
  let chosen = kept.format !== undefined;
  /** Counts what has been asked for: an older answer is not shown. */
  let newest = 0;
  let timer = 0;
  const format = option("Format", handOver.pictures, known(kept.format) ?? "png8", () => {
    chosen = true;
    changed();
  });
  const quality = h("input", { type: "range", min: 50, max: 100, step: 1, value: kept.quality ?? handOver.quality, oninput: changed });
  const qualityWords = h("output", { class: "save-value" });
  const qualityRow = labelled("Quality", quality, qualityWords);
  const side = option("Size", SIDES.map((pixels) => ({ id: String(pixels), label: pixels === 0 ? "Full size" : `${pixels} px on the longer side` })), String(kept.side ?? 0), changed);
  const notes = check("Keep what the camera wrote (EXIF): date, camera, lens", kept.notes ?? true);
  const place = check("and where it was taken", kept.place ?? false);
  const notesWords = h("p", { class: "quiet" });
  const clipWords = h("p", { class: "quiet" }, "This saves the frame that the clip stands on. The whole clip goes out with Save the reel (Shift+S).");
  const sum = h("p", { class: "save-sum", role: "status" });
  const el = h("div", { class: "save-options" }, format.el, qualityRow, side.el, h("div", { class: "save-checks" }, notes.el, place.el, notesWords), clipWords, sum);

  /** @param {string | undefined} id */
  function known(id) {
    return handOver.pictures.some((it) => it.id === id) ? id : undefined;
  }

  /** @param {string} label @param {boolean} checked */
  function check(label, checked) {
    const input = h("input", { type: "checkbox", checked, onchange: changed });
    return { input, el: h("label", { class: "check" }, input, h("span", {}, label)) };
  }

  /** @param {string} label @param {HTMLInputElement} control @param {HTMLElement} words */
  function labelled(label, control, words) {
    const id = newId();
    control.id = id;
    return h("div", { class: "save-option" }, h("label", { for: id }, label), h("span", { class: "save-range" }, control, words));
  }

  const frame = () => {
    const { reel, current } = state();
    return reel.find(({ id }) => id === current);
  };
  const kind = () => /** @type {FileChoice} */ (handOver.pictures.find(({ id }) => id === format.value()) ?? handOver.pictures[0]);
  const isPhoto = (/** @type {ReelFrame | undefined} */ it) => it !== undefined && !it.clip && /\bJPEG$/.test(it.info?.format ?? "");

  const wish = () => ({
    format: format.value(),
    quality: Number(quality.value),
    side: SMALL_TOO.includes(format.value()) ? Number(side.value()) : 0,
    notes: notes.input.checked && format.value() === "jpeg" && isPhoto(frame()),
    place: place.input.checked,
  });

  function changed() {
    keepOptions({ ...(chosen ? { format: format.value() } : {}), quality: Number(quality.value), side: Number(side.value()), notes: notes.input.checked, place: place.input.checked });
    show();
    onchange();
  }

  function show() {
    const jpeg = format.value() === "jpeg";
    const now = frame();
    qualityRow.hidden = !jpeg;
    side.el.hidden = !SMALL_TOO.includes(format.value());
    text(qualityWords, quality.value);
    const takes = jpeg && isPhoto(now);
    notes.el.hidden = place.el.hidden = !takes;
    place.input.disabled = !notes.input.checked;
    text(notesWords, takes ? "" : isPhoto(now) ? "What the camera wrote (date, camera, lens) is not written into this format; a JPEG keeps it." : "");
    clipWords.hidden = !now?.clip;
    notesWords.hidden = takes || !isPhoto(now);
    tell();
  }

  /** Says what comes of it: at once what is known, then what has to be tried. */
  function tell() {
    newest += 1;
    clearTimeout(timer);
    const info = frame()?.info;
    if (!info) return text(sum, "");
    const asked = wish();
    const refused = asked.side > 0 ? undefined : kind().refused[screenOf(state().history.present)];
    if (refused) return text(sum, refused);
    const { width, height } = savedSize(info, asked.side);
    const size = `${width} \u00d7 ${height} pixels`;
    const plain = plainBytes(asked.format, width * height);
    const kindWords = asked.side > 0 ? `${kind().label}, sRGB` : kind().label;
    if (plain) return text(sum, `${kindWords}, ${size}, ${plain.exact ? "" : "at most "}${sizeSaid(plain.bytes)}.`);
    text(sum, `${kindWords}, ${size}, \u2026`);
    const mine = newest;
    timer = setTimeout(async () => {
      const bytes = await save.estimate(asked).catch(() => null);
      if (mine === newest) text(sum, `${kindWords}, ${size}${bytes === null ? "" : `, about ${sizeSaid(bytes)}`}.`);
    }, PAUSE);
  }

  return {
    el,
    wish,
    open() {
      if (!chosen) format.set(isPhoto(frame()) ? "jpeg" : "png8");
      show();
    },
    /** Nobody looks any more. */
    close() {
      newest += 1;
      clearTimeout(timer);
    },
  };
}
