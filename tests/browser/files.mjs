// Files into the page and out of it, as a person moves them.
import { readFile, readdir, rename, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";

/** How much base64 goes to the browser in one message. */
const PIECE = 4_000_000;

/**
 * Drops files on an element, with the three events that a real drop has.
 * @param {import("puppeteer-core").Page} page
 * @param {string} selector
 * @param {...(string | {name: string, type?: string, bytes: Uint8Array})} files paths, or contents
 */
export async function drop(page, selector, ...files) {
  const transfer = await page.evaluateHandle(() => new DataTransfer());
  for (const file of files) {
    const { name, type, bytes } = typeof file === "string" ? await fromDisk(file) : file;
    const text = Buffer.from(bytes).toString("base64");
    const pieces = await page.evaluateHandle(() => []);
    for (let start = 0; start < text.length; start += PIECE) {
      await page.evaluate((all, piece) => void all.push(piece), pieces, text.slice(start, start + PIECE));
    }
    await page.evaluate(addFile, transfer, pieces, name, type ?? "");
  }
  await page.$eval(
    selector,
    (element, dataTransfer) => {
      const { left, top, width, height } = element.getBoundingClientRect();
      const place = { clientX: left + width / 2, clientY: top + height / 2 };
      for (const kind of ["dragenter", "dragover", "drop"]) {
        const options = { bubbles: true, cancelable: true, dataTransfer, ...place };
        element.dispatchEvent(new DragEvent(kind, options));
      }
    },
    transfer,
  );
}

function addFile(transfer, pieces, name, type) {
  const text = atob(pieces.join(""));
  const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  transfer.items.add(new File([bytes], name, { type }));
}

async function fromDisk(path) {
  return { name: basename(path), type: "", bytes: await readFile(path) };
}

/**
 * Chooses files in an `<input type=file>`, hidden or not.
 * @param {import("puppeteer-core").Page} page
 * @param {string} selector
 * @param {...string} paths
 */
export async function choose(page, selector, ...paths) {
  const input = await page.$(selector);
  if (!input) throw new Error(`no ${selector} on the page`);
  await input.uploadFile(...paths);
}

/** The downloads of one session. */
export class Downloads {
  /**
   * @param {string} folder where the browser puts them
   * @param {string} own where each is moved to when it is handed out, so that the next of the same
   *   name keeps its name
   */
  constructor(folder, own) {
    this.folder = folder;
    this.own = own;
  }

  /**
   * Waits for a finished download.
   * @param {RegExp} [pattern] what its name must match
   * @param {number} [limit_ms]
   * @returns {Promise<{name: string, path: string, bytes: Buffer}>}
   */
  async next(pattern = /./, limit_ms = 60_000) {
    const end = Date.now() + limit_ms;
    while (Date.now() < end) {
      const name = await this.#settled(pattern);
      if (name) {
        const path = join(this.own, name);
        await rename(join(this.folder, name), path);
        return { name, path, bytes: await readFile(path) };
      }
      await sleep(50);
    }
    const names = (await readdir(this.folder)).join(", ") || "nothing";
    throw new Error(`no download matches ${pattern} after ${limit_ms} ms; there is ${names}`);
  }

  /**
   * A download that is complete: while Firefox fills `name.part` it holds the final name with an
   * empty file, and before that a name made up of its own, which then vanishes. So the folder must
   * hold the same files, of the same sizes, twice in a row.
   */
  async #settled(pattern) {
    const before = await this.#sizes();
    const complete = ([name, size]) => size > 0 && !/^\.|\.(part|crdownload)$/.test(name);
    if (!before.every(complete)) return undefined;
    await sleep(150);
    const after = await this.#sizes();
    if (JSON.stringify(before) !== JSON.stringify(after)) return undefined;
    return before.map(([name]) => name).find((name) => pattern.test(name));
  }

  /** Names and sizes in the folder; a file that vanishes meanwhile has size 0. */
  async #sizes() {
    const names = (await readdir(this.folder)).sort();
    const size = (name) =>
      stat(join(this.folder, name)).then(
        (found) => found.size,
        () => 0,
      );
    return Promise.all(names.map(async (name) => [name, await size(name)]));
  }
}
