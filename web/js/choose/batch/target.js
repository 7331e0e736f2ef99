/** Where a saved reel goes: into a folder, file by file, or into one zip that is handed over at the end. */

/** @import { Sink } from "../../clip/saved.js" */
/** @import { Download } from "../../save/download.js" */

import { Zip, ZipPassThrough } from "fflate";

/** Most bytes of a file that is written as it comes, where it has to be held until the zip is handed over. */
export const HELD_MOST = 1 << 30;
/** What such a file is held in, and what is read of one at a time. */
const BLOCK = 16 << 20;

/**
 * @typedef {object} Target
 * @property {string} words where it goes
 * @property {(name: string, file: Blob) => Promise<string>} write gives the name that it has there; rejects
 *   with one sentence, and then nothing of it is left
 * @property {(name: string) => Promise<Sink>} open a file that is written as it comes
 * @property {() => Promise<void>} finish hands over what there is
 */

/** What a target rejects with if nothing more can be written there. */
export class TargetFull extends Error {}

/** Whether a folder can be written to. */
export const hasFolders = () => "showDirectoryPicker" in window;

/** @returns {Promise<Target | null>} null if the person chose none */
export async function folderTarget() {
  const pick = /** @type {{ showDirectoryPicker: (options: object) => Promise<FileSystemDirectoryHandle> }} */ (/** @type {unknown} */ (window));
  const picked = await pick.showDirectoryPicker({ mode: "readwrite", id: "lookwright-reel" }).catch((error) => {
    if (error instanceof DOMException && error.name === "AbortError") return null;
    throw new Error("The browser did not give access to that folder; choose another, or save a zip.");
  });
  if (!picked) return null;
  const folder = picked;

  /** @param {string} name @returns {Promise<string>} that no file there has */
  async function freeName(name) {
    const [, stem = name, ending = ""] = /^(.*?)(\.[^.]+)$/.exec(name) ?? [];
    for (let again = 1; ; again += 1) {
      const wanted = again === 1 ? name : `${stem} (${again})${ending}`;
      const there = await folder.getFileHandle(wanted).then(() => true, () => false);
      if (!there) return wanted;
    }
  }

  /** @param {unknown} error @returns {TargetFull} */
  function full(error) {
    const isFull = error instanceof DOMException && error.name === "QuotaExceededError";
    return new TargetFull(isFull ? "The disk is full; make room and go on." : "The folder can\u2019t be written to any more; choose it again and go on.");
  }

  /** @param {string} name @returns {Promise<Sink & { write: (data: Uint8Array<ArrayBuffer> | Blob, position: number) => Promise<void> }>} */
  async function open(name) {
    const free = await freeName(name);
    const remove = () => folder.removeEntry(free).catch(() => {});
    try {
      const handle = await folder.getFileHandle(free, { create: true });
      const stream = await handle.createWritable();
      /** @template T @param {() => Promise<T>} act */
      const kept = async (act) => {
        try {
          return await act();
        } catch (error) {
          await stream.abort().catch(() => {});
          await remove();
          throw full(error);
        }
      };
      return {
        write: (data, position) => kept(() => stream.write({ type: "write", position, data })),
        close: () => kept(async () => (await stream.close(), free)),
        async abort() {
          await stream.abort().catch(() => {});
          await remove();
        },
      };
    } catch (error) {
      await remove();
      throw full(error);
    }
  }

  return {
    words: `the folder ${folder.name}`,
    open,
    async write(name, file) {
      const sink = await open(name);
      await sink.write(file, 0);
      return sink.close();
    },
    finish: async () => {},
  };
}

/**
 * A file that is written as it comes, held until it is handed over.
 * @param {number} most bytes
 * @param {(file: Blob) => string} ondone gives the name that it has
 * @returns {Sink}
 */
function heldSink(most, ondone) {
  /** @type {Uint8Array<ArrayBuffer>[]} */
  let blocks = [];
  let size = 0;
  return {
    async write(data, position) {
      if (position + data.length > most) throw new Error(`it would be larger than ${most / (1 << 30)} GB, which only fits into a folder; save it into one where the browser can, or smaller`);
      for (let done = 0; done < data.length; ) {
        const [at, within] = [Math.floor((position + done) / BLOCK), (position + done) % BLOCK];
        while (blocks.length <= at) blocks.push(new Uint8Array(BLOCK));
        const part = data.subarray(done, done + BLOCK - within);
        blocks[at]?.set(part, within);
        done += part.length;
      }
      size = Math.max(size, position + data.length);
    },
    async close() {
      const file = new Blob(blocks).slice(0, size);
      blocks = [];
      return ondone(file);
    },
    async abort() {
      blocks = [];
    },
  };
}

/**
 * @param {string} name of the zip
 * @param {Download} download
 * @param {number} [most] bytes of a file that is written as it comes
 * @returns {Target}
 */
export function zipTarget(name, download, most = HELD_MOST) {
  /** @type {{ name: string, file: Blob }[]} */
  const files = [];
  /** @param {string} name @param {Blob} file */
  const add = (name, file) => (files.push({ name, file }), name);
  return {
    words: "one zip",
    open: async (name) => heldSink(most, (file) => add(name, file)),
    write: async (name, file) => add(name, file),
    async finish() {
      if (files.length === 0) return;
      download(name, await zipped(files), "application/zip");
    },
  };
}

/**
 * A zip that stores: pictures are packed already.
 * @param {{ name: string, file: Blob }[]} files
 * @returns {Promise<Blob>}
 */
export async function zipped(files) {
  /** @type {BlobPart[]} */
  const parts = [];
  const zip = new Zip((error, chunk) => {
    if (error) throw error;
    parts.push(new Blob([/** @type {Uint8Array<ArrayBuffer>} */ (chunk)]));
  });
  for (const { name, file } of files) {
    const entry = new ZipPassThrough(name);
    zip.add(entry);
    let at = 0;
    do {
      const bytes = new Uint8Array(await file.slice(at, at + BLOCK).arrayBuffer());
      at += BLOCK;
      entry.push(bytes, at >= file.size);
    } while (at < file.size);
  }
  zip.end();
  return new Blob(parts);
}
