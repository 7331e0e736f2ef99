/** The page's client of the worker that answers beside the picture's own work. */

/** @import { Answer, Asked, CurvePoints, PackRequest, RenderSettings, StepSettings, TaskName } from "../../types.js" */
/** @import { Bridge } from "./bridge.js" */

/** @typedef {ReturnType<typeof createClient>} Client */

/** @param {Bridge} bridge */
export function createClient(bridge) {
  /** Newest question of each kind: an older answer is dropped. @type {Map<string, number>} */
  const newest = new Map();

  /**
   * @template {TaskName} T
   * @param {string} kind
   * @param {T} task
   * @param {Asked<T>} asked
   * @returns {Promise<Answer<T> | null>} null if a newer question of this kind was asked meanwhile
   */
  async function latest(kind, task, asked) {
    const number = (newest.get(kind) ?? 0) + 1;
    newest.set(kind, number);
    const answer = await bridge.ask(task, asked);
    return newest.get(kind) === number ? answer : null;
  }

  return {
    /** @param {StepSettings} contrast */
    contrastCurve: (contrast) => latest("contrast", "contrastCurve", { contrast }),

    /** @param {CurvePoints} points */
    curve: (points) => latest("curve", "curve", { points }),

    /**
     * Checks a look and gives its canonical form.
     * @param {string} text
     */
    readLook: (text) => bridge.ask("readLook", { text }),

    /**
     * What the codes of the scan mean at one of its steps.
     * @param {string} step
     * @param {RenderSettings} settings
     */
    scanScale: (step, settings) => latest(`scale ${step}`, "scanScale", { step, settings }),

    /**
     * What a pack would be.
     * @param {PackRequest} request
     */
    packPlan: (request) => bridge.ask("packPlan", { request }),

    /**
     * What hurts in one of a plan's kinds.
     * @param {PackRequest} request
     * @param {number} kind
     */
    packHealth: (request, kind) => bridge.ask("packHealth", { request, kind }),

    /**
     * What hurts in a table file.
     * @param {string} name
     * @param {Blob} file
     * @param {RenderSettings} settings
     */
    checkTable: (name, file, settings) => bridge.ask("checkTable", { name, file, settings }),

    /** @param {string} stock */
    startingLook: (stock) => bridge.ask("startingLook", { stock }),
  };
}
