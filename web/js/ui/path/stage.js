/**
 * What a stage has to set, in the panel: changed steps first, the rest folded as it came. On a phone
 * one control at a time, or all of them as a list.
 */

/** @import { Catalogue, StageEntry, StageSettings, State } from "../../../types.js" */
/** @import { Client } from "../../bridge/client.js" */
/** @import { Edits } from "../../session/edits.js" */

import { changedControls } from "../../pure/changed.js";
import { isOn, stageSettings, stepSettings } from "../../pure/settings.js";
import { createSwitch } from "../controls/switch.js";
import { attribute, h, newId, text } from "../dom.js";
import { icon } from "../icons.js";
import { PHONE } from "../shape.js";
import { createSingle } from "./single.js";
import { createStep } from "./step.js";

/**
 * @param {{ catalogue: Catalogue, stage: StageEntry, id: string, curveInput: HTMLCanvasElement, edits: Edits, client: Client,
 *   onclose: () => void, onstep: (step: string) => void, onsingle: (single: boolean) => void }} wiring
 *   id: of the element that the gate controls
 */
export function createStage({ catalogue, stage, id, curveInput, edits, client, onclose, onstep, onsingle }) {
  // Intake and screen belong to the frame and the delivery: there is no picture without them.
  const switchable = stage.id !== "intake" && stage.id !== "screen";
  const toggle = switchable ? createSwitch(`${stage.label} on`, () => edits.toggleStage(stage.id)) : null;
  const steps = stage.steps.map((step) => ({
    entry: step,
    view: createStep({ catalogue, stage: stage.id, step, curveInput, edits, client, ontoggle: () => onstep(step.id) }),
  }));
  const about = h("p", { class: "about", id: newId(), hidden: true }, stage.about);
  const count = h("span", { class: "quiet stage-count" });
  const title = h(
    "button",
    {
      class: "stage-title",
      type: "button",
      title: stage.about,
      "aria-controls": about.id,
      "aria-expanded": "false",
      onclick() {
        about.hidden = !about.hidden;
        attribute(title, "aria-expanded", about.hidden ? "false" : "true");
      },
    },
    icon(stage.id),
    h("span", {}, stage.label),
  );
  const list = h("button", { class: "round stage-list", type: "button", "aria-label": "All controls", title: "All controls", onclick: () => onsingle(!single) }, icon("menu"));
  const close = h("button", { class: "round stage-close", type: "button", "aria-label": `Close ${stage.label}`, title: "Close", onclick: onclose }, icon("close"));
  const head = h("div", { class: "stage-bar" }, h("h2", {}, title), count, ...(toggle ? [toggle.el] : []), list, close);
  const changed = h("div", { class: "steps-changed" });
  const rest = h("div", { class: "steps-rest", id: newId() });
  const restCount = h("span", { class: "quiet" });
  const fold = h("button", { class: "as-it-came", type: "button", "aria-controls": rest.id, onclick: () => openRest(!restOpen) }, h("span", {}, "As it came"), restCount, icon("fold"));
  const walker = createSingle({
    stage,
    onopen(step) {
      const key = `${stage.id}.${step}`;
      if (!last?.openSteps.includes(key)) onstep(step);
    },
    viewOf: (step) => steps.find(({ entry }) => entry.id === step)?.view,
  });
  const el = h(
    "section",
    { class: "stage", "data-stage": stage.id, id, "aria-label": stage.label, hidden: true },
    head,
    walker.el,
    h("div", { class: "stage-body" }, about, changed, fold, rest),
  );

  /** @type {StageSettings | null} */
  let shown = null;
  /** @type {State | null} */
  let last = null;
  let single = true;
  let restOpen = false;
  let arranged = "";

  /** @param {boolean} open */
  function openRest(open) {
    restOpen = open;
    attribute(fold, "aria-expanded", open ? "true" : "false");
    rest.hidden = !open;
  }

  /**
   * Puts what has been changed first. Nothing moves while a hand is at it.
   * @param {State} state
   * @param {StageSettings} settings
   * @param {boolean} opened
   */
  function arrange(state, settings, opened) {
    if (!opened && (state.dragging || el.contains(document.activeElement))) return;
    const frame = state.reel.find((it) => it.id === state.current);
    const sets = steps.map(({ entry, view }) => {
      const ids = changedControls(entry, stepSettings(settings, entry.id));
      view.arrange(ids);
      return ids;
    });
    if (PHONE.matches) walker.arrange(sets.map((ids, i) => ({ step: stage.steps[i]?.id ?? "", changed: ids })), opened);
    const order = sets.map((ids) => (ids.length > 0 ? "1" : "0")).join("") + (frame?.id ?? "");
    if (order === arranged && !opened) return;
    arranged = order;
    const [first, others] = [true, false].map((it) => steps.filter((_, i) => (sets[i]?.length ?? 0) > 0 === it));
    changed.replaceChildren(...(first ?? []).map(({ view }) => view.el));
    rest.replaceChildren(...(others ?? []).map(({ view }) => view.el));
    const controls = (others ?? []).reduce((sum, { entry }) => sum + entry.controls.length, 0);
    text(restCount, controls === 1 ? "1 control" : `${controls} controls`);
    fold.hidden = controls === 0 || (first ?? []).length === 0;
    if (opened || fold.hidden) openRest((first ?? []).length === 0);
  }

  PHONE.addEventListener("change", () => {
    if (last && !el.hidden) arrange(last, shown ?? {}, true);
  });

  return {
    el,
    /** @param {State} state */
    update(state) {
      const settings = stageSettings(state.history.present, stage.id, state.current);
      // Before there is a look its controls would only be put in another order at once.
      const early = document.documentElement.dataset["ready"] === undefined && state.reel.length === 0 && state.history.serial === 0;
      const open = state.openStage === stage.id && state.panel === "controls" && !early;
      const opened = open && el.hidden;
      el.hidden = !open;
      single = state.single;
      attribute(el, "data-single", single);
      attribute(list, "aria-pressed", single ? "false" : "true");
      const same = settings === shown && state.openSteps === last?.openSteps && state.current === last?.current;
      last = state;
      if (same && !opened) return;
      shown = settings;
      const lit = stage.steps.some((step) => isOn(stepSettings(settings, step.id), step));
      toggle?.update(lit);
      const changes = steps.reduce((sum, { entry }) => sum + changedControls(entry, stepSettings(settings, entry.id)).length, 0);
      text(count, changes === 0 ? "as it came" : `${changes} changed`);
      if (!open) return;
      arrange(state, settings, opened);
      for (const { entry, view } of steps) {
        view.update(stepSettings(settings, entry.id), state.openSteps.includes(`${stage.id}.${entry.id}`), state);
      }
    },
  };
}
