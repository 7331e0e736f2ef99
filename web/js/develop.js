/**
 * The finished picture at full size, in parts: each worker develops one, strip by strip, from rows
 * that the worker which shows the picture hands over, so that nobody decodes it again. Between the
 * rounds of strips the parts hear of each other what light spreads far.
 */

/** @import { FrameId, Recipe, Round, Shared, Size } from "../types.js" */
/** @import { Bridge } from "./bridge.js" */
/** @import { OnStep } from "./maker.js" */

/** Red, green and blue are shared one after the other, so that not all are in memory twice. */
const LAYERS = [0, 1, 2];

/** How many workers develop a picture: more would take more memory than they save time. */
export const developers = () => Math.min(2, navigator.hardwareConcurrency || 2);

/**
 * @param {{ source: Bridge, workers: Bridge[], id: FrameId, recipe: Recipe, format: string, quality: number, onstep: OnStep }} wish
 *   source: the worker that holds the picture
 * @returns {Promise<Blob>} the file, without its type
 */
export async function develop({ source, workers, id, recipe, format, quality, onstep }) {
  /** @type {Size & { number: number }} */
  const { number, ...size } = await source.ask("lend", { id });
  try {
    const parts = await begin(workers, { recipe, format, quality, size, number });
    const shares = parts.map(() => 0);
    const tell = (/** @type {number} */ index, /** @type {number} */ done) => {
      shares[index] = done;
      onstep({ done: shares.reduce((sum, share) => sum + share) / shares.length, total: 1 });
    };
    for (;;) {
      await Promise.all(parts.map((part, i) => strips(source, part, (done) => tell(i, done))));
      if (parts.some(({ round }) => round.gathers)) await exchange(parts);
      const rounds = await Promise.all(parts.map(({ worker }) => worker.ask("nextRound")));
      if (rounds.some((round) => round === null)) break;
      parts.forEach((part, i) => (part.round = rounds[i]));
    }
    for (const { worker, file } of parts) file.push(new Blob([(await worker.ask("finishPart")).bytes]));
    return new Blob(parts.flatMap(({ file }) => file));
  } finally {
    source.ask("release").catch(() => {});
  }
}

/** @typedef {{ worker: Bridge, round: Round, file: Blob[] }} Part file: what is settled of it */

/**
 * @param {Bridge[]} workers
 * @param {object} wish
 * @returns {Promise<Part[]>} as many as the picture has, at most one for each worker
 */
async function begin(workers, wish) {
  const count = workers.length;
  /** @type {(Round | null)[]} */
  const rounds = await Promise.all(workers.map((worker, index) => worker.ask("beginPart", { ...wish, index, count })));
  return workers.flatMap((worker, i) => {
    const round = rounds[i];
    return round ? [{ worker, round, file: [] }] : [];
  });
}

/**
 * A round of one part.
 * @param {Bridge} source
 * @param {Part} part
 * @param {(done: number) => void} tell
 */
async function strips(source, { worker, round: { needs }, file }, tell) {
  let coming = later(rowsOf(source, needs[0]));
  let before = Promise.resolve();
  for (let i = 0; i < needs.length; i += 1) {
    const rows = await coming;
    // The next rows come while these are worked on.
    coming = later(rowsOf(source, needs[i + 1]));
    const step = later(worker.ask("stepPart", rows, [rows.bytes.buffer]).then(take));
    // One strip waits for the worker, so that the worker waits for none.
    await before;
    before = step;
  }
  await before;

  /** @param {{ done: number, bytes: Uint8Array<ArrayBuffer> }} made */
  function take({ done, bytes }) {
    // A blob need not stay in the page's memory.
    if (bytes.length > 0) file.push(new Blob([bytes]));
    tell(done);
  }
}

/**
 * A promise whose failure is heard of when it is its turn.
 * @template T
 * @param {Promise<T>} promise
 */
function later(promise) {
  promise.catch(() => {});
  return promise;
}

/**
 * @param {Bridge} source
 * @param {[number, number] | undefined} need
 * @returns {Promise<{ bits: number, bytes: Uint8Array<ArrayBuffer> }>}
 */
async function rowsOf(source, [first, end] = [0, 0]) {
  return first < end ? source.ask("rows", { first, end }) : { bits: 8, bytes: new Uint8Array() };
}

/**
 * Lets every part hear of the others, layer by layer.
 * @param {Part[]} parts
 */
async function exchange(parts) {
  let coming = later(share(parts, 0));
  for (const layer of LAYERS) {
    const shared = await coming;
    const joined = parts.map(({ worker }, i) => {
      const others = shared.filter((_, other) => other !== i);
      // With two parts each is heard of once and need not be copied.
      const given = parts.length === 2 ? others.map(({ values }) => values.buffer) : [];
      return worker.ask("joinPart", { layer, others }, given);
    });
    // Asked for already, so that no part waits for what another one joins.
    coming = later(share(parts, layer + 1));
    await Promise.all(joined);
  }
}

/**
 * What each part has of one layer; nothing after the last one.
 * @param {Part[]} parts
 * @param {number} layer
 * @returns {Promise<Shared[]>}
 */
async function share(parts, layer) {
  if (parts.length < 2 || !LAYERS.includes(layer)) return [];
  return Promise.all(parts.map(({ worker }) => worker.ask("sharePart", { layer })));
}
