/**
 * The worker's end of the bridge: owns one instance of the core. A question names a task; the
 * answer or one sentence goes back under the question's number.
 */

/** @import { Question, Reply } from "../../types.js" */

import { answer, takeCore } from "./tasks.js";
import { buffersOf } from "./transfer.js";

const scope = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** Questions are answered one after the other, in the order they came. */
let last = Promise.resolve();

scope.onmessage = (/** @type {MessageEvent<Question | { core: WebAssembly.Module }>} */ { data }) => {
  if ("core" in data) takeCore(data.core);
  else last = last.then(() => reply(data));
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
    send({ id, problem, lost });
  }
}
