/** Small questions to the core, answered beside the picture's own work. */

/** @import { CurvePoints, Health, LookData, PackPlan, ScanScale, StepSettings, TableHealth } from "../../types.js" */
/** @import { Bridge } from "./bridge.js" */

/** @typedef {ReturnType<typeof createClient>} Client */

/** @param {Bridge} bridge */
export function createClient(bridge) {
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
     * What the codes of the scan mean at one of its steps.
     * @param {string} step
     * @param {string} look
     * @param {string} delivery
     * @returns {Promise<ScanScale | null>}
     */
    scanScale: (step, look, delivery) => latest(`scale ${step}`, "scanScale", { step, look, delivery }),

    /**
     * What a pack would be.
     * @param {object} request
     * @returns {Promise<PackPlan>}
     */
    packPlan: (request) => bridge.ask("packPlan", { request }),

    /**
     * What hurts in one of a plan's kinds.
     * @param {object} request
     * @param {number} kind
     * @returns {Promise<Health>}
     */
    packHealth: (request, kind) => bridge.ask("packHealth", { request, kind }),

    /**
     * What hurts in a table file.
     * @param {string} name
     * @param {Uint8Array} bytes
     * @param {string} delivery
     * @returns {Promise<TableHealth>}
     */
    checkTable: (name, bytes, delivery) => bridge.ask("checkTable", { name, bytes, delivery }),

    /**
     * @param {string} stock
     * @returns {Promise<LookData>}
     */
    async startingLook(stock) {
      return JSON.parse(await bridge.ask("startingLook", { stock }));
    },
  };
}
