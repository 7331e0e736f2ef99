/** The page's client of the worker that answers beside the picture's own work. */

/** @import { Answer, Asked, CurvePoints, PackRequest, RenderSettings, Shown, StageId, StepSettings, TaskName } from "../../types.js" */
/** @import { Bridge } from "./bridge.js" */

import { Superseded } from "./bridge.js";

/** @typedef {ReturnType<typeof createClient>} Client */

/**
 * @param {Bridge} bridge
 * @param {() => Bridge} reader a worker that holds nothing, for what needs the whole core: to get that drops what a worker holds
 */
export function createClient(bridge, reader) {
  /** Newest question of each kind: an older answer is dropped. @type {Map<string, number>} */
  const newest = new Map();

  /**
   * Asks again if the worker had to be replaced.
   * @template {TaskName} T
   * @param {T} task
   * @param {Asked<T>} asked
   * @param {() => Bridge} of
   * @returns {Promise<Answer<T>>}
   */
  async function ask(task, asked, of = () => bridge) {
    try {
      return await of().ask(task, asked);
    } catch (error) {
      if (error instanceof Superseded) return of().ask(task, asked);
      throw error;
    }
  }

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
    const answer = await ask(task, asked);
    return newest.get(kind) === number ? answer : null;
  }

  return {
    /** @param {StepSettings} contrast */
    contrastCurve: (contrast) => latest("contrast", "contrastCurve", { contrast }),

    /** @param {CurvePoints} points */
    curve: (points) => latest("curve", "curve", { points }),

    /** Which version this is, and of which film model. */
    about: () => ask("about", {}),

    /**
     * Checks a look and gives its canonical form.
     * @param {string} text
     */
    readLook: (text) => ask("readLook", { text }),

    /**
     * What a stage makes of greys.
     * @param {StageId} stage
     * @param {RenderSettings} settings
     * @param {string} [place] where it is shown: what is asked for there overtakes what was asked for there
     */
    greyCurve: (stage, settings, place = "") => latest(`grey ${place} ${stage}`, "greyCurve", { stage, settings }),

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
    packPlan: (request) => ask("packPlan", { request }, reader),

    /**
     * What hurts in one of a plan's kinds.
     * @param {PackRequest} request
     * @param {number} kind
     */
    packHealth: (request, kind) => ask("packHealth", { request, kind }, reader),

    /**
     * What hurts in a table file.
     * @param {string} name
     * @param {Blob} file
     * @param {RenderSettings} settings
     */
    checkTable: (name, file, settings) => ask("checkTable", { name, file, settings }, reader),

    /**
     * What a 24-patch chart in a copy of a frame says.
     * @param {Asked<"checkChart">} asked
     */
    checkChart: (asked) => ask("checkChart", asked, reader),

    /**
     * What differs between two renderings of a frame.
     * @param {Shown} before
     * @param {Shown} after
     * @param {string} screen
     */
    difference: (before, after, screen) => latest("difference", "difference", { before, after, screen }),

    /** @param {string} stock */
    startingLook: (stock) => ask("startingLook", { stock }),
  };
}
