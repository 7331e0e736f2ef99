/**
 * The finished picture at full size, in parts: each worker develops one, strip by strip, from rows
 * that the worker which shows the picture hands over, so that nobody decodes it again. Between the
 * rounds of strips the parts exchange halos: the rows across their border that spread light reaches.
 */

/** @import { Answer, FrameId, HaloPlane, PartWish, RenderSettings, Round, Samples, Tell } from "../../types.js" */
/** @import { Bridge } from "../bridge/bridge.js" */

/** Red, green and blue. */
const LAYERS = [0, 1, 2];
/** What is half and a quarter of the picture's size; each part makes what is smaller. */
const LEVELS = [1, 2];
/** How many numbers go from part to part at once. */
const NUMBERS_AT_ONCE = 1 << 20;
/** How many bytes of a file become a blob. */
const BLOB_BYTES = 8 << 20;

/** How many workers develop a picture, at most two: more would take more memory than they save time. */
export const developers = () => Math.min(2, navigator.hardwareConcurrency || 2);

/** @typedef {ReturnType<typeof develop>} Development */

/**
 * Begins at once, and goes as far as the strips that make the file.
 * @param {{ source: Bridge, workers: Bridge[], id: FrameId, settings: RenderSettings, format: string, quality: number }} wish
 *   source: the worker that holds the picture
 */
export function develop({ source, workers, id, ...wish }) {
  /** @type {Tell} */
  let onprogress = () => {};
  /** @type {number[]} */
  const shares = [];

  async function begin() {
    const unpin = source.pin();
    const { loan, number, ...size } = await source.ask("lend", { id }).catch((error) => {
      unpin();
      throw error;
    });
    const release = () => {
      unpin();
      source.ask("release", { loan }).catch(() => {});
    };
    try {
      const parts = await beginParts(workers, { ...wish, size, number });
      parts.forEach((_, i) => (shares[i] = 0));
      while (parts.some(({ round }) => !round.last)) await goOn(parts);
      return { parts, release };
    } catch (error) {
      release();
      throw error;
    }
  }

  /** @param {Part[]} parts */
  async function goOn(parts) {
    await work(parts);
    if (parts.some(({ round }) => round.gathers)) await exchange(parts);
    await Promise.all(parts.map(async (part) => (part.round = await part.worker.ask("nextRound", {}))));
  }

  /** @param {Part[]} parts */
  async function work(parts) {
    const tell = (/** @type {number} */ index, /** @type {number} */ done) => {
      shares[index] = done;
      onprogress({ done: shares.reduce((sum, share) => sum + share) / shares.length, total: 1 });
    };
    await Promise.all(parts.map((part, i) => strips(source, part, (done) => tell(i, done))));
  }

  let failed = false;
  const begun = begin();
  begun.catch(() => (failed = true));
  return {
    /**
     * @param {Tell} listener
     * @returns {Promise<Blob>} the file, without its type
     */
    async finish(listener) {
      onprogress = listener;
      // What failed before it was asked for may be possible now.
      const { parts, release } = await (failed ? begin() : begun);
      try {
        await work(parts);
        for (const { worker, file } of parts) file.add((await worker.ask("finishPart", {})).bytes);
        return new Blob(parts.flatMap(({ file }) => file.all()));
      } finally {
        release();
      }
    },

    /** It won't be finished. */
    drop: () => void begun.then(({ release }) => release(), () => {}),
  };
}

/** @typedef {{ worker: Bridge, round: Round, file: ReturnType<typeof settled> }} Part file: what is settled of it */

/** Bytes of a file that is being made. A blob need not stay in the page's memory, but each takes time. */
function settled() {
  /** @type {Blob[]} */
  const blobs = [];
  /** @type {Uint8Array<ArrayBuffer>[]} */
  let loose = [];
  let count = 0;
  return {
    /** @param {Uint8Array<ArrayBuffer>} bytes */
    add(bytes) {
      loose.push(bytes);
      count += bytes.length;
      if (count < BLOB_BYTES) return;
      blobs.push(new Blob(loose));
      [loose, count] = [[], 0];
    },
    /** @returns {BlobPart[]} */
    all: () => [...blobs, ...loose],
  };
}

/**
 * @param {Bridge[]} workers
 * @param {Omit<PartWish, "index" | "count">} wish
 * @returns {Promise<Part[]>} as many as the picture has, at most one for each worker
 */
async function beginParts(workers, wish) {
  const count = workers.length;
  const rounds = await Promise.all(workers.map((worker, index) => worker.ask("beginPart", { ...wish, index, count })));
  return workers.flatMap((worker, i) => {
    const round = rounds[i];
    return round ? [{ worker, round, file: settled() }] : [];
  });
}

/**
 * A round of one part.
 * @param {Bridge} source
 * @param {Part} part
 * @param {(done: number) => void} tell
 */
async function strips(source, { worker, round: { needs }, file }, tell) {
  // Rows go back and forth in the same memory: what is thrown away stays for a while.
  /** @type {ArrayBuffer[]} */
  const free = [];
  let coming = later(rowsOf(source, needs[0]));
  let before = Promise.resolve();
  for (let i = 0; i < needs.length; i += 1) {
    const rows = await coming;
    // The next rows come while these are worked on.
    coming = later(rowsOf(source, needs[i + 1], free.pop()));
    const step = later(worker.ask("stepPart", rows, { transfer: [rows.bytes.buffer] }).then(take));
    // One strip waits for the worker, so that the worker waits for none.
    await before;
    before = step;
  }
  await before;

  /** @param {Answer<"stepPart">} made */
  function take({ done, bytes, buffer }) {
    free.push(buffer);
    file.add(bytes);
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
 * @param {ArrayBuffer} [buffer] that they may be written to
 * @returns {Promise<Samples>}
 */
async function rowsOf(source, [first, end] = [0, 0], buffer) {
  if (first === end) return { bits: 8, bytes: new Uint8Array() };
  return source.ask("rows", { first, end, buffer }, { transfer: buffer ? [buffer] : [] });
}

/**
 * Exchanges halos between the parts. While one layer is on its way, another is worked on.
 * @param {Part[]} parts
 */
async function exchange(parts) {
  await Promise.all(
    LAYERS.map(async (layer) => {
      for (const level of LEVELS) await exchangePlane(parts, { layer, level });
      await Promise.all(parts.map(({ worker }) => worker.ask("closeHalo", { layer })));
    }),
  );
}

/**
 * @param {Part[]} parts
 * @param {HaloPlane} plane
 */
async function exchangePlane(parts, plane) {
  const ranges = await Promise.all(parts.map(({ worker }) => worker.ask("haloRanges", plane)));
  const ways = parts.flatMap((from, i) =>
    parts.map((to, k) => {
      const [have, want] = [ranges[i], ranges[k]];
      if (from === to || !have || !want) return null;
      const [first, end] = [Math.max(have.own[0], want.wanted[0]), Math.min(have.own[1], want.wanted[1])];
      return sendRows(from, to, { ...plane, first, end, columns: have.columns });
    }),
  );
  await Promise.all(ways);
}

/**
 * Sends rows, a few at a time: what is on its way is in memory more than once.
 * @param {Part} from
 * @param {Part} to
 * @param {HaloPlane & { first: number, end: number, columns: number }} rows
 */
async function sendRows(from, to, { layer, level, first, end, columns }) {
  const count = Math.max(1, Math.floor(NUMBERS_AT_ONCE / columns));
  for (let row = first; row < end; row += count) {
    const rows = await from.worker.ask("readHalo", { layer, level, first: row, end: Math.min(end, row + count) });
    await to.worker.ask("writeHalo", rows, { transfer: [rows.values.buffer] });
  }
}
