/** The page's end of one worker: every question has a number, every answer comes back under it. */

/** @typedef {{ resolve: (answer: any) => void, reject: (error: Error) => void }} Waiting */

/** Said when a worker itself fails, which no input should bring about. */
const LOST = "The part that works on pictures stopped; reload the page to go on where you were.";

const UNFETCHED = "The part that works on pictures could not be fetched; check the connection and reload the page.";

export class Bridge {
  /** @type {Worker} */
  #worker;
  #last = 0;
  /** @type {Map<number, Waiting>} */
  #waiting = new Map();

  /** @param {Promise<WebAssembly.Module>} core compiled once for every worker */
  constructor(core) {
    this.#worker = new Worker(new URL("./worker/worker.js", import.meta.url), { type: "module" });
    core.then(
      (module) => this.#worker.postMessage({ core: module }),
      () => this.#lose(new Error(UNFETCHED)),
    );
    this.#worker.onmessage = ({ data }) => this.#settle(data);
    this.#worker.onerror = (event) => {
      event.preventDefault();
      this.#lose(new Error(LOST));
    };
  }

  /** @param {Error} error */
  #lose(error) {
    for (const { reject } of this.#waiting.values()) reject(error);
    this.#waiting.clear();
  }

  /**
   * @param {string} task
   * @param {object} [input]
   * @param {Transferable[]} [transfer]
   * @returns {Promise<any>} the worker's answer; rejects with one sentence
   */
  ask(task, input = {}, transfer = []) {
    this.#last += 1;
    const id = this.#last;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, task, input }, transfer);
    });
  }

  /** @param {{ id: number, answer?: unknown, problem?: string, lost?: boolean }} message */
  #settle({ id, answer, problem, lost }) {
    const waiting = this.#waiting.get(id);
    if (!waiting) return;
    this.#waiting.delete(id);
    if (problem === undefined) waiting.resolve(answer);
    else waiting.reject(new Error(lost ? LOST : problem));
  }
}
