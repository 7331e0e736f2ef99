/**
 * The worker's end of the bridge: owns one instance of the core. A question names a task; the
 * answer or one sentence goes back under the question's number.
 */

import { answer, giveBack, takeCore } from "./tasks.js";

/** @typedef {{ id: number, task: string, input: any }} Question */

const scope = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** Questions are answered one after the other, in the order they came. */
let last = Promise.resolve();

scope.onmessage = (/** @type {MessageEvent<Question | { core: WebAssembly.Module }>} */ { data }) => {
  if ("core" in data) takeCore(data.core);
  else last = last.then(() => reply(data));
};

/** @param {Question} question */
async function reply({ id, task, input }) {
  try {
    const result = await answer(task, input, (news) => scope.postMessage({ id, news }));
    scope.postMessage({ id, answer: result }, giveBack(result));
  } catch (error) {
    // A trap leaves the instance in an unknown state: it must not be asked again.
    const lost = error instanceof WebAssembly.RuntimeError;
    const problem = error instanceof Error ? error.message : String(error);
    scope.postMessage({ id, problem, lost });
  }
}
