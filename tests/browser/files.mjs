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
      const names = await readdir(this.folder);
      // Firefox holds the final name with an empty file while it fills `name.part`.
      const busy = names.some((name) => /\.(part|crdownload)$/.test(name) || name.startsWith("."));
      const name = busy ? undefined : names.find((candidate) => pattern.test(candidate));
      if (name && (await isSettled(join(this.folder, name)))) {
        const path = join(this.own, name);
        await rename(join(this.folder, name), path);
        return { name, path, bytes: await readFile(path) };
      }
      await sleep(50);
    }
    const names = (await readdir(this.folder)).join(", ") || "nothing";
    throw new Error(`no download matches ${pattern} after ${limit_ms} ms; there is ${names}`);
  }
}

async function isSettled(path) {
  const { size } = await stat(path);
  if (size === 0) return false;
  await sleep(100);
  return (await stat(path)).size === size;
}
