/** The page's end of one worker: every question has a number, every answer comes back under it. */

/** @import { Answer, Asked, Core, Question, Reply, TaskName, Tell } from "../../types.js" */

import { pageFile } from "../page-file.js";

/**
 * A question that has not been answered; handed: whether buffers went with it, so that it can't be asked again.
 * @typedef {{ question: Question, handed: boolean, resolve: (answer: Answer<TaskName>) => void, reject: (error: Error) => void, onprogress: Tell | undefined }} Waiting
 */

/** Said when a worker breaks off: it ran out of memory. */
const LOST = "The browser ran out of memory, so this was not done. Nothing else has changed.";

const UNFETCHED = "Part of the page could not be loaded. Check the connection and reload the page.";

/** Said when a worker was ended from outside, or answers no more. */
const DIED = "The part that works on pictures stopped, and was started again; nothing was lost.";

/** What a worker held is brought back this often within this time in ms; then it is left. */
const MOST_LOSSES = 3;
const LOSS_TIME = 60_000;

/** How long a worker may be silent while it is asked something, in ms. */
const SILENCE = 90_000;

/** Those whose workers live. @type {Set<Bridge>} */
const living = new Set();

// A page that is put to sleep is loaded anew when it is woken up (`kept/ownership.js`), so its workers are of no use to
// it. Asleep in the middle of a picture they are a danger: Chromium ends the process that they are in, and the page that
// the person went to with it, when one of them is then told anything.
addEventListener("pagehide", ({ persisted }) => {
  if (persisted) for (const bridge of living) bridge.leave();
});

/** What a question rejects with whose answer nobody waits for any more. It is not told to anybody. */
export class Superseded extends Error {}

/** @param {unknown} error */
export const reasonOf = (error) => (error instanceof Error ? error.message : String(error));

export class Bridge {
  /** @type {Worker} */
  #worker;
  /** @type {Core} */
  #core;
  /** Whether the worker has all of the core. */
  #whole = false;
  /** Whether every worker has to have it. */
  #always = false;
  /** Whether its core or its own file could not be fetched: it will never answer. */
  #coreless = false;
  #last = 0;
  /** When the worker was lost. @type {number[]} */
  #losses = [];
  #silence = SILENCE;
  #timer = 0;
  /** How many hold something in the worker that must not be lost. */
  #pins = 0;
  /** What waits for nothing to be held. @type {(() => void)[]} */
  #unpinned = [];
  /** Why the worker was ended, if it was. @type {Error | null} */
  #ended = null;
  /** What the worker was asked. @type {Map<number, Waiting>} */
  #waiting = new Map();
  /** What waits for a worker with the whole core. @type {Map<number, Waiting>} */
  #growing = new Map();
  /** Who waits for it to have nothing to do. @type {(() => void)[]} */
  #resting = [];
  /** Called when the worker had to be replaced: what it held is gone. @type {(words: string) => void} */
  onlost = () => {};
  /** Called when another worker, with the whole core, took its place: what it held is gone. @type {() => void} */
  ongrown = () => {};

  /**
   * @param {Core} core
   * @param {{ silence?: number, whole?: boolean }} [options] silence: how long it may take before it
   *   tells anything, in ms; whole: whether the whole core will be needed in any case
   */
  constructor(core, { silence = SILENCE, whole = false } = {}) {
    this.#core = core;
    this.#silence = silence;
    this.#whole = this.#always = whole;
    this.#worker = this.#start();
    living.add(this);
  }

  #start() {
    this.#coreless = false;
    const worker = new Worker(pageFile(this.#whole ? "js/worker/whole.js" : "js/worker/first.js"), { type: "module" });
    // The browser lets go of a worker's lock when the worker is gone, whatever ended it.
    const lock = `lookwright.worker.${crypto.randomUUID()}`;
    const core = this.#whole ? this.#core.whole() : this.#core.first;
    core.then(
      (module) => worker.postMessage({ core: module, lock }),
      () => this.#miss(worker),
    );
    let lives = false;
    worker.onmessage = ({ data }) => {
      lives = true;
      if (worker !== this.#worker) return;
      if (data === "locked") this.#watch(worker, lock);
      else this.#settle(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      // What has never said anything and has no words for it could not be fetched.
      if (!lives && !event.message) this.#miss(worker);
      else if (worker === this.#worker) this.#replace(LOST);
    };
    return worker;
  }

  /** What it needs could not be fetched: that is tried again when it is next asked something. @param {Worker} worker */
  #miss(worker) {
    if (worker !== this.#worker || this.#ended) return;
    this.#coreless = true;
    this.#whole = this.#always;
    this.#fail(new Error(UNFETCHED));
  }

  /**
   * @param {Worker} worker
   * @param {string} lock that it holds
   */
  #watch(worker, lock) {
    navigator.locks?.request(lock, () => {
      if (worker === this.#worker && !this.#ended) this.#replace(DIED);
    });
  }

  /** Begins to wait for a sign of life, or goes on waiting. */
  #listen() {
    clearTimeout(this.#timer);
    if (this.#waiting.size > 0 && !this.#ended) this.#timer = setTimeout(() => this.#replace(DIED), this.#silence);
    if (this.idle) for (const rested of this.#resting.splice(0)) rested();
  }

  /**
   * Goes on with a worker that has the whole core, once that is there and nothing held is in use, and
   * asks it what the other one could not do, and all that this one was asked meanwhile.
   * @param {Waiting} waiting
   */
  async #grow(waiting) {
    const { id } = waiting.question;
    this.#growing.set(id, waiting);
    this.#listen();
    const there = await this.#core.whole().then(() => true, () => false);
    // It may be given up by now, or another one's growth has taken it along.
    if (!there && this.#growing.delete(id)) {
      waiting.reject(new Error(UNFETCHED));
      this.#listen();
    }
    while (this.pinned && this.#growing.has(id)) await new Promise((resolve) => this.#unpinned.push(() => resolve(undefined)));
    if (!this.#growing.has(id)) return;
    const again = [...this.#waiting.values(), ...this.#growing.values()].sort((a, b) => a.question.id - b.question.id);
    this.#waiting.clear();
    this.#growing.clear();
    this.#whole = true;
    this.#worker.terminate();
    this.#worker = this.#start();
    for (const it of again) {
      if (it.handed) it.reject(new Superseded());
      else this.#send(it);
    }
    this.#listen();
    this.ongrown();
  }

  /**
   * @param {Waiting} waiting
   * @param {Transferable[]} [transfer]
   */
  #send(waiting, transfer = []) {
    if (this.#coreless) {
      this.#worker.terminate();
      this.#worker = this.#start();
    }
    this.#waiting.set(waiting.question.id, waiting);
    this.#worker.postMessage(waiting.question, transfer);
    if (this.#waiting.size === 1) this.#listen();
  }

  /** @param {Error} error */
  #fail(error) {
    for (const { reject } of [...this.#waiting.values(), ...this.#growing.values()]) reject(error);
    this.#waiting.clear();
    this.#growing.clear();
    this.#listen();
  }

  /**
   * A worker whose core broke off is not asked again; what breaks off again and again is left.
   * @param {string} words
   */
  #replace(words) {
    if (this.#ended) return;
    this.#worker.terminate();
    this.#worker = this.#start();
    const now = performance.now();
    this.#losses = [...this.#losses.filter((time) => now - time < LOSS_TIME), now];
    const often = this.#losses.length > MOST_LOSSES;
    // What was asked is asked again once the worker is back; if that is tried no more, it is told.
    this.#fail(words === LOST || often ? new Error(LOST) : new Superseded(words));
    if (!often) this.onlost(words);
  }

  /**
   * @template {TaskName} T
   * @param {T} task
   * @param {Asked<T>} asked
   * @param {{ transfer?: Transferable[], onprogress?: Tell }} [how] transfer: buffers that are handed
   *   over and not copied; onprogress: told how far the work is, by tasks that tell
   * @returns {Promise<Answer<T>>} rejects with one sentence, or with {@link Superseded}
   */
  ask(task, asked, { transfer = [], onprogress } = {}) {
    if (this.#ended) return Promise.reject(this.#ended);
    this.#last += 1;
    const id = this.#last;
    return new Promise((resolve, reject) => {
      // The answer under this number is this task's.
      const settle = /** @type {(answer: Answer<TaskName>) => void} */ (resolve);
      const question = /** @type {Question} */ ({ id, task, asked });
      this.#send({ question, handed: transfer.length > 0, resolve: settle, reject, onprogress }, transfer);
    });
  }

  /** How many questions are not answered. */
  get asked() {
    return this.#waiting.size + this.#growing.size;
  }

  /** Whether every question is answered. */
  get idle() {
    return this.asked === 0;
  }

  /** @returns {Promise<void>} when every question is answered */
  settled() {
    return this.idle ? Promise.resolve() : new Promise((resolve) => this.#resting.push(resolve));
  }

  /** Whether the worker holds something that must not be lost. */
  get pinned() {
    return this.#pins > 0;
  }

  /** What waits for a worker with the whole core is not wanted any more. */
  stay() {
    for (const { reject } of this.#growing.values()) reject(new Superseded());
    this.#growing.clear();
    this.#listen();
  }

  /** @returns {() => void} lets go of it again */
  pin() {
    this.#pins += 1;
    let done = false;
    return () => {
      if (!done) this.#pins -= 1;
      done = true;
      if (!this.pinned) for (const go of this.#unpinned.splice(0)) go();
    };
  }

  /** A new worker in place of one that is at something nobody waits for any more. */
  renew() {
    if (this.#ended) return;
    this.#worker.terminate();
    this.#worker = this.#start();
    this.#fail(new Superseded());
  }

  /**
   * Ends the worker, whatever it is doing.
   * @param {Error} error what unanswered questions reject with
   */
  end(error) {
    this.#ended ??= error;
    this.leave();
    this.#fail(error);
  }

  /** Ends the worker for good, and tells nobody: whoever waits for it goes as well. */
  leave() {
    clearTimeout(this.#timer);
    this.#ended ??= new Error("The page was left.");
    living.delete(this);
    this.#worker.terminate();
  }

  /** @param {Reply} reply */
  #settle(reply) {
    const waiting = this.#waiting.get(reply.id);
    if (!waiting) return;
    if ("progress" in reply) {
      this.#listen();
      return waiting.onprogress?.(reply.progress);
    }
    this.#waiting.delete(reply.id);
    if ("answer" in reply) waiting.resolve(reply.answer);
    else if ("whole" in reply) return void this.#grow(waiting);
    else if (reply.lost) {
      waiting.reject(new Error(LOST));
      return this.#replace(LOST);
    } else waiting.reject(reply.stale ? new Superseded(reply.problem) : new Error(reply.problem));
    this.#listen();
  }
}
