/** What a person can do to the document: each becomes one entry of the history. */

/** @import { Doc, LookData, Place, StageId, StageSettings, Value } from "../../types.js" */
/** @import { Store } from "./store.js" */

import { record, redo, settle, undo } from "../pure/history.js";
import { defaultOf, findStage, isOn, stageSettings, stepSettings, withStage, withValue } from "../pure/settings.js";

/** @typedef {ReturnType<typeof createEdits>} Edits */

/** @param {Store} store */
export function createEdits(store) {
  /** What was on in a stage when it was put out. @type {Map<StageId, StageSettings>} */
  const putOut = new Map();

  /**
   * @param {Doc} doc
   * @param {string | null} [gesture]
   */
  function commit(doc, gesture = null) {
    store.set({ history: record(store.get().history, doc, gesture) });
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
    commit(doc, dragging ? gesture : null);
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
      commit(doc);
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
    commit(withStage(present(), id, frame, relit));
  }

  return {
    setValue,
    rest,
    reset,
    toggleStage,

    /** @param {LookData} look */
    setLook: (look) => commit({ ...present(), look }),

    /** @param {string} name */
    setName(name) {
      const { name: before, ...rest } = present().look;
      if ((before ?? "") === name) return;
      commit({ ...present(), look: name === "" ? rest : { ...rest, name } }, "name");
    },

    undo: () => store.set({ history: undo(store.get().history), dragging: false }),
    redo: () => store.set({ history: redo(store.get().history), dragging: false }),
  };
}
