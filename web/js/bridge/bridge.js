/** The page's end of one worker: every question has a number, every answer comes back under it. */

/** @import { Answer, Asked, Reply, TaskName, Tell } from "../../types.js" */

import { pageFile } from "../page-file.js";

/**
 * A question that has not been answered.
 * @typedef {{ resolve: (answer: Answer<TaskName>) => void, reject: (error: Error) => void, onprogress: Tell | undefined }} Waiting
 */

/** Said when a worker breaks off: it ran out of memory. */
const LOST = "The browser ran out of memory, so this was not done. Nothing else has changed.";

const UNFETCHED = "Part of the page could not be loaded. Check the connection and reload the page.";

/** How often what a worker held is brought back. */
const MOST_LOSSES = 3;

export class Bridge {
  /** @type {Worker} */
  #worker;
  /** @type {Promise<WebAssembly.Module>} */
  #core;
  #last = 0;
  #losses = 0;
  /** Why the worker was ended, if it was. @type {Error | null} */
  #ended = null;
  /** @type {Map<number, Waiting>} */
  #waiting = new Map();
  /** Called when the worker had to be replaced: what it held is gone. */
  onlost = () => {};

  /** @param {Promise<WebAssembly.Module>} core compiled once for every worker */
  constructor(core) {
    this.#core = core;
    this.#worker = this.#start();
  }

  #start() {
    const worker = new Worker(pageFile("js/worker/worker.js"), { type: "module" });
    this.#core.then(
      (module) => worker.postMessage({ core: module }),
      () => this.#fail(new Error(UNFETCHED)),
    );
    worker.onmessage = ({ data }) => this.#settle(data);
    worker.onerror = (event) => {
      event.preventDefault();
      this.#fail(new Error(LOST));
    };
    return worker;
  }

  /** @param {Error} error */
  #fail(error) {
    for (const { reject } of this.#waiting.values()) reject(error);
    this.#waiting.clear();
  }

  /** A worker whose core broke off is not asked again; what breaks off again and again is left. */
  #replace() {
    if (this.#ended) return;
    this.#worker.terminate();
    this.#fail(new Error(LOST));
    this.#worker = this.#start();
    this.#losses += 1;
    if (this.#losses <= MOST_LOSSES) this.onlost();
  }

  /**
   * @template {TaskName} T
   * @param {T} task
   * @param {Asked<T>} asked
   * @param {{ transfer?: Transferable[], onprogress?: Tell }} [how] transfer: buffers that are handed
   *   over and not copied; onprogress: told how far the work is, by tasks that tell
   * @returns {Promise<Answer<T>>} rejects with one sentence
   */
  ask(task, asked, { transfer = [], onprogress } = {}) {
    if (this.#ended) return Promise.reject(this.#ended);
    this.#last += 1;
    const id = this.#last;
    return new Promise((resolve, reject) => {
      // The answer under this number is this task's.
      const settle = /** @type {(answer: Answer<TaskName>) => void} */ (resolve);
      this.#waiting.set(id, { resolve: settle, reject, onprogress });
      this.#worker.postMessage({ id, task, asked }, transfer);
    });
  }

  /**
   * Ends the worker, whatever it is doing.
   * @param {Error} error what unanswered questions reject with
   */
  end(error) {
    this.#ended ??= error;
    this.#worker.terminate();
    this.#fail(error);
  }

  /** @param {Reply} reply */
  #settle(reply) {
    const waiting = this.#waiting.get(reply.id);
    if (!waiting) return;
    if ("progress" in reply) return waiting.onprogress?.(reply.progress);
    this.#waiting.delete(reply.id);
    if ("answer" in reply) waiting.resolve(reply.answer);
    else if (reply.lost) {
      waiting.reject(new Error(LOST));
      this.#replace();
    } else waiting.reject(new Error(reply.problem));
  }
}
