/** What a person can do to the document: each becomes one entry of the history. */

/** @import { Doc, FrameId, LookData, Place, StageId, StageSettings, Value } from "../../types.js" */
/** @import { Store } from "./store.js" */

import { jump, record, redo, settle, undo } from "../pure/history.js";
import { amountControl } from "../pure/looks/difference.js";
import { defaultOf, findStage, findStep, isOn, stageSettings, stepSettings, withStage, withValue } from "../pure/settings.js";
import { spoken } from "../pure/summary.js";

/** @typedef {ReturnType<typeof createEdits>} Edits */

/** @param {Store} store */
export function createEdits(store) {
  /** What was on in a stage when it was put out. @type {Map<StageId, StageSettings>} */
  const putOut = new Map();

  /**
   * @param {Doc} doc
   * @param {string} made what the edit did
   * @param {string | null} [gesture]
   */
  function commit(doc, made, gesture = null) {
    store.set({ history: record(store.get().history, doc, gesture, made) });
  }

  const present = () => store.get().history.present;

  function catalogue() {
    const found = store.get().catalogue;
    if (!found) throw new Error("the catalogue has not arrived");
    return found;
  }

  /**
   * Sets a value. While `dragging`, edits of one place join into one entry.
   * @param {Place} place
   * @param {Value} value
   * @param {boolean} [dragging]
   */
  function setValue(place, value, dragging = false) {
    const gesture = `${place.stage}.${place.step}.${place.control}`;
    const doc = withValue(catalogue(), present(), store.get().current, place, value);
    store.set({ dragging });
    commit(doc, nameOf(place, value), dragging ? gesture : null);
  }

  /**
   * Sets several values of one step in one entry.
   * @param {[place: Place, value: Value][]} values
   * @param {boolean} dragging
   */
  function setValues(values, dragging) {
    const [first] = values;
    if (!first) return;
    const { current } = store.get();
    const doc = values.reduce((now, [place, value]) => withValue(catalogue(), now, current, place, value), present());
    store.set({ dragging });
    const names = values.map(([place, value]) => nameOf(place, value));
    const [step] = names[0]?.split(": ") ?? [];
    const made = names.map((name, i) => (i === 0 ? name : name.replace(`${step}: `, ""))).join(", ");
    commit(doc, made, dragging ? `${first[0].stage}.${first[0].step}.${values.map(([place]) => place.control).join("+")}` : null);
  }

  /**
   * An edit's name in the history.
   * @param {Place} place
   * @param {Value} value
   */
  function nameOf({ stage, step, control }, value) {
    const entry = findStep(findStage(catalogue(), stage), step);
    if (control === "on") return `${entry.label} ${value ? "on" : "off"}`;
    const own = control === "amount" ? amountControl(catalogue()) : entry.controls.find(({ id }) => id === control);
    return own ? `${entry.label}: ${own.label.toLowerCase()} ${spoken(own, value)}` : entry.label;
  }

  /** Ends a drag: the next edit is an entry of its own, and the picture is drawn in full. */
  function rest() {
    store.set({ dragging: false, history: settle(store.get().history) });
  }

  /** @param {Place} place */
  function reset(place) {
    setValue(place, defaultOf(catalogue(), place));
    rest();
  }

  /**
   * Puts a stage out, or lights what was lit in it before.
   * @param {StageId} id
   */
  function toggleStage(id) {
    const stage = findStage(catalogue(), id);
    const frame = store.get().current;
    const settings = stageSettings(present(), id, frame);
    const lit = stage.steps.some((step) => isOn(stepSettings(settings, step.id), step));
    if (lit) {
      putOut.set(id, settings);
      let doc = present();
      for (const step of stage.steps) {
        doc = withValue(catalogue(), doc, frame, { stage: id, step: step.id, control: "on" }, false);
      }
      commit(doc, `${stage.label} off`);
      return;
    }
    const kept = putOut.get(id) ?? {};
    const relit = Object.fromEntries(
      stage.steps.flatMap((step) => {
        const { on: _, ...rest } = stepSettings(settings, step.id);
        const before = stepSettings(kept, step.id).on;
        const entry = before === undefined ? rest : { ...rest, on: before };
        return Object.keys(entry).length > 0 ? [[step.id, entry]] : [];
      }),
    );
    commit(withStage(present(), id, frame, relit), `${stage.label} on again`);
  }

  const undoOnce = () => store.set({ history: undo(store.get().history), dragging: false });

  return {
    setValue,
    setValues,
    rest,
    reset,
    toggleStage,

    /** @param {LookData} look */
    setLook: (look) => commit({ ...present(), look }, look.name ? `look \u201c${look.name}\u201d` : "another look"),

    /**
     * Sets several frames at once.
     * @param {Readonly<Record<FrameId, StageSettings>>} frames their settings
     * @param {string} made
     */
    setFrames: (frames, made) => commit({ ...present(), frames: { ...present().frames, ...frames } }, made),

    /**
     * @param {readonly FrameId[]} ids frames that leave the reel
     * @param {string} made
     */
    takeAway: (ids, made) => commit({ ...present(), away: [...(present().away ?? []), ...ids] }, made),

    /** @param {readonly FrameId[]} ids frames that come back to the reel */
    bringBack(ids) {
      const { past } = store.get().history;
      const before = past.at(-1)?.away ?? [];
      const away = present().away ?? [];
      // If nothing was done since, it is undone; else it is an edit of its own.
      if (away.length === before.length + ids.length && ids.every((id) => away.includes(id) && !before.includes(id))) return undoOnce();
      commit({ ...present(), away: away.filter((id) => !ids.includes(id)) }, "bring frames back");
    },

    /** @param {string} name */
    setName(name) {
      const { name: before, ...rest } = present().look;
      if ((before ?? "") === name) return;
      commit({ ...present(), look: name === "" ? rest : { ...rest, name } }, "name", "name");
    },

    undo: undoOnce,
    /** @param {number} by entries onwards, or back if it is below zero */
    jump: (by) => store.set({ history: jump(store.get().history, by), dragging: false }),
    redo: () => store.set({ history: redo(store.get().history), dragging: false }),
  };
}
