/**
 * The worker's end of the bridge: owns one instance of the core. A question names a task; the
 * answer or one sentence goes back under the question's number.
 */

/** @import { Question, Reply } from "../../types.js" */

import { NotHeld } from "./held.js";
import { answer, takeCore } from "./tasks.js";
import { buffersOf } from "./transfer.js";

/**
 * What a worker is given first: its core, and a lock to hold for as long as it lives.
 * @typedef {{ core: WebAssembly.Module, lock: string }} Start
 */

const scope = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** Questions are answered one after the other, in the order they came. */
let last = Promise.resolve();

scope.onmessage = (/** @type {MessageEvent<Question | Start>} */ { data }) => {
  if ("core" in data) {
    takeCore(data.core);
    // Held for as long as this worker lives, so that the page learns when it is gone.
    scope.navigator.locks?.request(data.lock, () => {
      scope.postMessage("locked");
      return new Promise(() => {});
    });
  } else last = last.then(() => reply(data));
};

/**
 * @param {Reply} message
 * @param {Transferable[]} [transfer]
 */
const send = (message, transfer = []) => scope.postMessage(message, transfer);

/** @param {Question} question */
async function reply({ id, task, asked }) {
  try {
    const result = await answer(task, asked, (progress) => send({ id, progress }));
    send({ id, answer: result }, buffersOf(result));
  } catch (error) {
    // A trap leaves the instance in an unknown state: it must not be asked again.
    const lost = error instanceof WebAssembly.RuntimeError;
    const problem = error instanceof Error ? error.message : String(error);
    send({ id, problem, lost, stale: error instanceof NotHeld });
  }
}
