/** Where a saved reel goes: into a folder, file by file, or into one zip that is handed over at the end. */

/** @import { Download } from "../../save/download.js" */

import { Zip, ZipPassThrough } from "fflate";

/**
 * @typedef {object} Target
 * @property {string} words where it goes
 * @property {(name: string, file: Blob) => Promise<string>} write gives the name that it has there; rejects
 *   with one sentence, and then nothing of it is left
 * @property {() => Promise<void>} finish hands over what there is
 */

/** What a target rejects with if nothing more can be written there. */
export class TargetFull extends Error {}

/** Whether a folder can be written to. */
export const hasFolders = () => "showDirectoryPicker" in window;

/** @returns {Promise<Target | null>} null if the person chose none */
export async function folderTarget() {
  const pick = /** @type {{ showDirectoryPicker: (options: object) => Promise<FileSystemDirectoryHandle> }} */ (/** @type {unknown} */ (window));
  const folder = await pick.showDirectoryPicker({ mode: "readwrite", id: "lookwright-reel" }).catch((error) => {
    if (error instanceof DOMException && error.name === "AbortError") return null;
    throw new Error("The browser did not give access to that folder; choose another, or save a zip.");
  });
  if (!folder) return null;

  /** @param {string} name @returns {Promise<string>} that no file there has */
  async function freeName(name) {
    const [, stem = name, ending = ""] = /^(.*?)(\.[^.]+)$/.exec(name) ?? [];
    for (let again = 1; ; again += 1) {
      const wanted = again === 1 ? name : `${stem} (${again})${ending}`;
      const there = await folder?.getFileHandle(wanted).then(() => true, () => false);
      if (!there) return wanted;
    }
  }

  return {
    words: `the folder ${folder.name}`,
    async write(name, file) {
      const free = await freeName(name);
      try {
        const handle = await folder.getFileHandle(free, { create: true });
        const stream = await handle.createWritable();
        try {
          await stream.write(file);
          await stream.close();
        } catch (error) {
          await stream.abort().catch(() => {});
          throw error;
        }
        return free;
      } catch (error) {
        await folder.removeEntry(free).catch(() => {});
        const full = error instanceof DOMException && error.name === "QuotaExceededError";
        throw new TargetFull(full ? "The disk is full; make room and go on." : "The folder can't be written to any more; choose it again and go on.");
      }
    },
    finish: async () => {},
  };
}

/**
 * @param {string} name of the zip
 * @param {Download} download
 * @returns {Target}
 */
export function zipTarget(name, download) {
  /** @type {{ name: string, file: Blob }[]} */
  const files = [];
  return {
    words: "one zip",
    async write(file, content) {
      files.push({ name: file, file: content });
      return file;
    },
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
    entry.push(new Uint8Array(await file.arrayBuffer()), true);
  }
  zip.end();
  return new Blob(parts);
}
