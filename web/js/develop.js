/**
 * The finished picture at full size, in parts: each worker develops one, strip by strip, from rows
 * that the worker which shows the picture hands over, so that nobody decodes it again. Between the
 * rounds of strips the parts hear of each other what light spreads far.
 */

/** @import { FrameId, Recipe, Round, Shared, Size } from "../types.js" */
/** @import { Bridge } from "./bridge.js" */
/** @import { OnStep } from "./maker.js" */

/** Red, green and blue are shared one after the other, so that only one is in memory twice. */
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
      if (parts.some(({ round }) => round.gathers)) for (const layer of LAYERS) await exchange(parts, layer);
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
  const fetch = (/** @type {[number, number] | undefined} */ need) => {
    const rows = rowsOf(source, need);
    rows.catch(() => {}); // heard of when it is their turn
    return rows;
  };
  let coming = fetch(needs[0]);
  for (let i = 0; i < needs.length; i += 1) {
    const rows = await coming;
    // The next rows come while these are worked on.
    coming = fetch(needs[i + 1]);
    const { done, bytes } = await worker.ask("stepPart", rows, [rows.bytes.buffer]);
    // A blob need not stay in the page's memory.
    if (bytes.length > 0) file.push(new Blob([bytes]));
    tell(done);
  }
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
 * Lets every part hear of one layer of the others.
 * @param {Part[]} parts
 * @param {number} layer
 */
async function exchange(parts, layer) {
  /** @type {Shared[]} */
  const shared = parts.length > 1 ? await Promise.all(parts.map(({ worker }) => worker.ask("sharePart", { layer }))) : [];
  await Promise.all(
    parts.map(({ worker }, i) => {
      const others = shared.filter((_, other) => other !== i);
      // With two parts each is heard of once and need not be copied.
      const given = parts.length === 2 ? others.map(({ values }) => values.buffer) : [];
      return worker.ask("joinPart", { layer, others }, given);
    }),
  );
}
