/** A client's view of a review: the picture first, then a yes. */

/** @import { ReviewData, ReviewShot } from "../types.js" */
/** @import { Zoom } from "./pane.js" */
/** @import { WordKey } from "./words/index.js" */

import { altered } from "../js/pure/review/review.js";
import { attribute, h, newId } from "../js/ui/dom.js";
import { addGestures, kept } from "./gestures.js";
import { createNotes } from "./notes.js";
import { createPane } from "./pane.js";
import { said } from "./record.js";
import { createSend } from "./send.js";
import { createState } from "./state.js";
import { LANGUAGES, createSpeech, languageOf } from "./words/index.js";

/** @type {Zoom} */
const FIT = { scale: 1, x: 0.5, y: 0.5 };

/**
 * @param {HTMLElement} root is filled
 * @param {ReviewData} review
 * @param {ReviewShot[]} shots
 * @param {string} [language] the browser's choice if there is none
 * @param {import("./state.js").ReviewState} [done] what was done in another language
 */
export function mountReview(root, review, shots, language = languageOf(navigator.languages), done) {
  const speech = createSpeech(language);
  const { say } = speech;
  document.documentElement.lang = language;
  const wrong = altered(review);
  const state = createState(review, done);
  const several = review.frames.length > 1;
  let zoom = FIT;
  let held = false;
  let before = false;
  let noting = false;

  const panes = review.versions.map(({ letter }) =>
    createPane({
      letter,
      review,
      shots,
      speech,
      onpinmove: (index, pin) => state.setFrame({ pins: state.current().pins.map((it, i) => (i === index ? pin : it)) }),
      onpinfocus(index) {
        openNotes();
        notes.focus(index);
      },
    }),
  );
  const group = newId();
  const picks = review.versions.map(({ letter, name, words }) => {
    const radio = h("input", { type: "radio", name: group, value: letter, onchange: () => state.set({ version: letter }) });
    const thumb = h("img", { alt: "" });
    const label = h("label", { class: "pick", "data-letter": letter, title: words || name }, thumb, radio, h("b", {}, letter), h("span", {}, words || name));
    return { letter, label, radio, thumb };
  });
  const chosen = h("div", { class: "looks", role: "radiogroup", "aria-label": say("choose") }, ...panes.flatMap(({ el }, i) => [el, ...(picks[i] ? [picks[i].label] : [])]));
  chosen.dataset["count"] = String(review.versions.length);

  const wipe = h("input", { class: "wipe", type: "range", min: 0, max: 1, step: 0.001, "aria-label": say("wipe"), oninput: () => state.set({ wipe: Number(wipe.value) }) });
  const rail = h("div", { class: "rail" }, h("span", { "aria-hidden": "true" }, say("before")), h("span", { "aria-hidden": "true" }, say("after")), wipe);

  const yesFor = h("small");
  const yes = h("button", { type: "button", class: "lit yes", onclick: sayYes }, say("yes"), yesFor);
  const change = h("button", { type: "button", class: "plain change", onclick: openNotes }, say("change"));
  const beforeButton = h("button", { type: "button", class: "tool", onclick: () => { before = !before; show(); } }, say("showBefore"));
  const closer = h("button", { type: "button", class: "tool", onclick: lookCloser }, say("closer"));
  const full = h("button", { type: "button", class: "tool", onclick: fullScreen }, say("fullScreen"));
  full.hidden = !document.fullscreenEnabled;

  const back = h("button", { type: "button", class: "turn", "aria-label": say("previous"), onclick: () => turn(-1) }, "\u2039");
  const next = h("button", { type: "button", class: "turn", "aria-label": say("next"), onclick: () => turn(1) }, "\u203a");
  const thumbs = review.frames.map((frame, i) => {
    const mark = h("span", { class: "mark" });
    const src = shots.find((shot) => shot.frame === i && shot.kind !== "before" && !shot.crop)?.src ?? "";
    const el = h("button", { type: "button", class: "thumb", onclick: () => go(i) }, h("img", { src, alt: "" }), mark);
    return { el, mark, name: frame.name };
  });
  const reel = h("nav", { class: "reel", hidden: !several }, back, h("div", { class: "thumbs" }, ...thumbs.map(({ el }) => el)), next);
  const toSend = h("button", { type: "button", class: "plain to-send", onclick: () => send.open() }, say("review"));

  const notes = createNotes({
    speech,
    onpins: (pins) => state.setFrame({ pins, say: "change", version: state.get().version }),
    onwords: (words) => state.setFrame({ words, ...(words.trim() ? { say: "change", version: state.get().version } : {}) }),
    onadd: () => addPin({ x: 0.5, y: 0.5 }),
    ondone: closeNotes,
  });
  const send = createSend({ review, shots, state, speech });
  const howMany = createHowMany();

  const count = review.versions.length;
  const facts = [
    review.from ? say("from", { name: review.from }) : "",
    count > 1 ? say("versions", { n: count }) : say("oneVersion"),
    several ? say("frames", { n: review.frames.length }) : say("oneFrame"),
  ];
  const language_ = h("select", { "aria-label": say("chooseLanguage"), onchange: () => mountReview(root, review, shots, language_.value, state.get()) });
  for (const [code, { language: own }] of Object.entries(LANGUAGES)) language_.append(h("option", { value: code, lang: code, selected: code === language }, own));
  const main = h(
    "main",
    { class: "review" },
    h("header", { class: "head" }, h("div", {}, h("h1", {}, review.title), h("p", { class: "quiet" }, facts.filter(Boolean).join(" \u00b7 "))), h("div", { class: "tools" }, beforeButton, closer, full)),
    ...wrong.map(({ letter }) => h("p", { class: "problem", role: "alert" }, say("altered", { letter }))),
    h("div", { class: "stage" }, chosen, rail),
    notes.el,
    h("div", { class: "dock" }, reel, h("div", { class: "say" }, yes, change), toSend),
    h(
      "footer",
      { class: "foot" },
      ...(review.note ? [h("p", { class: "note" }, review.note)] : []),
      h("p", { class: "quiet" }, say("local"), " ", review.frames.some(({ crop }) => crop) ? say("grain") : ""),
      h("p", { class: "quiet" }, language_, " ", LANGUAGES[language]?.unreviewed ?? ""),
    ),
  );
  yes.disabled = wrong.length > 0;

  for (const pane of panes) {
    addGestures(pane, { zoom: () => zoom, onzoom: setZoom, onhold: (on) => { held = on; show(); }, onswipe: turn, ontap: tapped });
    pane.el.addEventListener("keydown", keyed);
    pane.el.addEventListener("keyup", (event) => event.key === " " && setHeld(false));
    pane.el.addEventListener("blur", () => setHeld(false));
  }

  /** @param {boolean} on */
  function setHeld(on) {
    if (held === on) return;
    held = on;
    show();
  }

  /** @param {KeyboardEvent} event */
  function keyed(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === " ") setHeld(true);
    else if (event.key === "ArrowRight") turn(1);
    else if (event.key === "ArrowLeft") turn(-1);
    else if (review.versions.some(({ letter }) => letter === event.key.toUpperCase())) state.set({ version: event.key.toUpperCase() });
    else return;
    event.preventDefault();
  }

  /** @param {Zoom} next */
  function setZoom(next) {
    zoom = next;
    show();
  }

  /** To where the grain is, a picture's pixel on one of the screen's; or back. */
  function lookCloser() {
    const crop = review.frames[state.get().frame]?.crop;
    const pane = panes.find(({ el }) => el.checkVisibility()) ?? panes[0];
    if (zoom.scale > 1 || !pane) return setZoom(FIT);
    const closeUp = pane.el.querySelector(".layer-after .closer");
    const pixels = crop && closeUp instanceof HTMLImageElement ? closeUp.naturalWidth / crop.width : 2 * pane.size().width;
    const scale = pixels / devicePixelRatio / pane.el.clientWidth;
    setZoom(kept({ scale: Math.max(1.5, scale), x: crop ? crop.x + crop.width / 2 : 0.5, y: crop ? crop.y + crop.height / 2 : 0.5 }));
  }

  function fullScreen() {
    if (document.fullscreenElement) document.exitFullscreen();
    else root.requestFullscreen().catch(() => {});
  }

  /** @param {number} frame */
  function go(frame) {
    if (frame < 0 || frame >= review.frames.length) return;
    zoom = FIT;
    const answered = state.get().frames[frame];
    state.set({ frame, ...(answered?.say ? { version: answered.version } : {}) });
  }

  /** @param {-1 | 1} by */
  function turn(by) {
    go(state.get().frame + by);
  }

  /** @param {import("./pane.js").Pane} pane @param {MouseEvent} event */
  function tapped(pane, event) {
    if (state.get().version !== pane.letter) state.set({ version: pane.letter });
    else if (noting) addPin(pane.pointOf(event, zoom));
  }

  /** @param {{ x: number, y: number }} at */
  function addPin(at) {
    const { pins } = state.current();
    state.setFrame({ pins: [...pins, { ...at, version: state.get().version, words: "" }] });
    notes.focus(pins.length);
  }

  function openNotes() {
    noting = true;
    show();
    notes.focus();
    root.scrollTo?.({ top: 0 });
  }

  function closeNotes() {
    noting = false;
    const frame = state.current();
    const pins = frame.pins.filter(({ words }) => words.trim() !== "");
    const told = pins.length > 0 || frame.words.trim() !== "";
    if (told) state.setFrame({ pins, say: "change", version: state.get().version });
    else state.setFrame({ pins, say: frame.say === "change" ? "" : frame.say });
    if (told) onwards();
    else change.focus();
  }

  function sayYes() {
    const others = state.get().frames.filter((_, i) => i !== state.get().frame);
    state.sayYes();
    if (others.length > 0 && others.every(({ say: told }) => told === "")) howMany.open();
    else onwards();
  }

  /** To the next frame without an answer, or to the end. */
  function onwards() {
    const { frames, frame } = state.get();
    const open = frames.map((it, i) => (it.say === "" ? i : -1)).filter((i) => i >= 0);
    const following = open.find((i) => i > frame) ?? open[0];
    if (following === undefined) send.open();
    else go(following);
  }

  function createHowMany() {
    const title = h("h2", { id: newId() });
    const all = h("button", { type: "button", class: "lit", onclick() { dialog.close(); state.sayYesToAll(); send.open(); } });
    const only = h("button", { type: "button", class: "plain", onclick() { dialog.close(); onwards(); } }, say("yesOnlyThis"));
    const dialog = h("dialog", { class: "sheet", "aria-labelledby": title.id }, title, all, only);
    return {
      el: dialog,
      open() {
        title.textContent = say("yesTo", { letter: state.get().version });
        all.textContent = say("yesToAll", { n: review.frames.length });
        dialog.showModal();
      },
    };
  }

  function show() {
    const { frame, version, frames } = state.get();
    const whole = review.frames.length;
    for (const pane of panes) {
      attribute(pane.el, "data-picked", pane.letter === version);
      pane.update({ frame, wipe: state.get().wipe, held: held || before, zoom, pins: noting || frames[frame]?.pins.length ? (frames[frame]?.pins ?? []) : [] });
    }
    for (const { letter, label, radio, thumb } of picks) {
      radio.checked = letter === version;
      attribute(label, "data-picked", letter === version);
      const src = shots.find((shot) => shot.frame === frame && shot.kind === letter && !shot.crop)?.src ?? "";
      if (thumb.getAttribute("src") !== src) thumb.src = src;
    }
    if (document.activeElement !== wipe) wipe.value = String(state.get().wipe);
    wipe.setAttribute("aria-valuetext", `${Math.round(state.get().wipe * 100)} %`);
    attribute(beforeButton, "aria-pressed", String(before));
    attribute(closer, "aria-pressed", String(zoom.scale > 1));
    closer.textContent = say(zoom.scale > 1 ? "whole" : "closer");
    yesFor.textContent = several ? say(count > 1 ? "yesFor" : "of", { letter: version, n: frame + 1, of: whole }) : count > 1 ? say("yesOnly", { letter: version }) : "";
    thumbs.forEach(({ el, mark, name }, i) => {
      const answer = frames[i];
      attribute(el, "aria-current", i === frame ? "true" : undefined);
      const now = answer ? said(answer.say, answer.version, speech) : "";
      attribute(el, "aria-label", `${say("of", { n: i + 1, of: whole })}, ${name}: ${now}`);
      mark.textContent = answer?.say === "yes" ? `\u2713 ${count > 1 ? answer.version : ""}`.trim() : answer?.say === "change" ? "\u270e" : String(i + 1);
    });
    back.disabled = frame === 0;
    next.disabled = frame === whole - 1;
    toSend.hidden = !frames.some((it) => it.say !== "");
    notes.el.hidden = !noting;
    attribute(main, "data-noting", noting);
    const ofFrame = frames[frame];
    if (ofFrame) notes.update(ofFrame, say(/** @type {WordKey} */ ("onFrame"), { letter: version, n: frame + 1, of: whole }));
    fit();
  }

  /** The pane has the picture's own shape, as large as there is room. */
  function fit() {
    const shot = panes[0]?.size();
    if (shot?.width) main.style.setProperty("--ratio", String(shot.width / shot.height));
    attribute(main, "data-wide", Boolean(shot?.width && shot.width / shot.height >= 1.2));
  }

  state.subscribe(show);
  root.replaceChildren(main, howMany.el, send.el);
  show();
  panes[0]?.loaded().then(fit);
  return { fit };
}
