/** Small questions to the core, answered beside the picture's own work. */

/** @import { CurvePoints, LookData, StepSettings } from "../types.js" */
/** @import { Bridge } from "./bridge.js" */

/** @typedef {ReturnType<typeof createAsks>} Asks */

/** @param {Bridge} bridge */
export function createAsks(bridge) {
  /** Newest question of each kind: an older answer is dropped. @type {Map<string, number>} */
  const newest = new Map();

  /**
   * @param {string} kind
   * @param {string} task
   * @param {object} input
   * @returns {Promise<any>} null if a newer question of this kind was asked meanwhile
   */
  async function latest(kind, task, input) {
    const number = (newest.get(kind) ?? 0) + 1;
    newest.set(kind, number);
    const answer = await bridge.ask(task, input);
    return newest.get(kind) === number ? answer : null;
  }

  return {
    /**
     * @param {StepSettings} contrast
     * @returns {Promise<{ samples: Float32Array, pivot: number } | null>}
     */
    contrastCurve: (contrast) => latest("contrast", "contrastCurve", { contrast: JSON.stringify(contrast) }),

    /**
     * @param {CurvePoints} points
     * @returns {Promise<Float32Array | null>}
     */
    curve: (points) => latest("curve", "curve", { points }),

    /**
     * Checks a look and gives its canonical form.
     * @param {string} text
     * @returns {Promise<{ canonical: string, pretty: string, fingerprint: string }>}
     */
    readLook: (text) => bridge.ask("readLook", { text }),

    /**
     * @param {string} stock
     * @returns {Promise<LookData>}
     */
    async startingLook(stock) {
      return JSON.parse(await bridge.ask("startingLook", { stock }));
    },
  };
}
