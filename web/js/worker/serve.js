/**
 * The worker's end of the bridge: owns one instance of the core. A question names a task; the
 * answer or one sentence goes back under the question's number.
 */

/** @import { Answer, Asked, Question, Reply, TaskName, Tell } from "../../types.js" */

import init from "lookwright-wasm";
import { NotHeld } from "./held.js";
import { NeedsWhole } from "./needs-whole.js";
import { buffersOf } from "./transfer.js";

/**
 * What a worker is given first: its core, and a lock to hold for as long as it lives.
 * @typedef {{ core: WebAssembly.Module, lock: string }} Start
 */

/**
 * A function for each task that this worker can be asked.
 * @typedef {{ [T in TaskName]?: (asked: Asked<T>, tell: Tell) => Answer<T> | Promise<Answer<T>> }} Tasks
 */

const scope = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @param {Tasks} tasks */
export function serve(tasks) {
  /** @type {(core: WebAssembly.Module) => void} */
  let take;
  const ready = new Promise((resolve) => {
    take = (core) => resolve(init({ module_or_path: core }));
  });
  /** Questions are answered one after the other, in the order they came. */
  let last = Promise.resolve();

  scope.onmessage = (/** @type {MessageEvent<Question | Start>} */ { data }) => {
    if ("core" in data) {
      take(data.core);
      // Held for as long as this worker lives, so that the page learns when it is gone.
      scope.navigator.locks?.request(data.lock, () => {
        scope.postMessage("locked");
        return new Promise(() => {});
      });
    } else last = last.then(() => reply(data));
  };

  /** @param {Question} question */
  async function reply({ id, task, asked }) {
    try {
      await ready;
      const result = await answer(tasks, task, asked, (progress) => send({ id, progress }));
      send({ id, answer: result }, buffersOf(result));
    } catch (error) {
      if (error instanceof NeedsWhole) return send({ id, whole: true });
      // A trap leaves the instance in an unknown state: it must not be asked again.
      const lost = error instanceof WebAssembly.RuntimeError;
      const problem = error instanceof Error ? error.message : String(error);
      send({ id, problem, lost, stale: error instanceof NotHeld });
    }
  }
}

/**
 * @param {Reply} message
 * @param {Transferable[]} [transfer]
 */
const send = (message, transfer = []) => scope.postMessage(message, transfer);

/**
 * @template {TaskName} T
 * @param {Tasks} tasks
 * @param {T} task
 * @param {Asked<T>} asked
 * @param {Tell} tell
 * @returns {Promise<Answer<T>>} rejects with one sentence
 */
async function answer(tasks, task, asked, tell) {
  const known = tasks[task];
  if (!known) throw new NeedsWhole();
  return known(asked, tell);
}
