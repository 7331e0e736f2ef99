// A browser with a profile that outlives it, and the page with little to show, so that a run is short.
import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import puppeteer from "puppeteer-core";
import { ready, unfold } from "../desk.mjs";
import { optionsFor } from "../launch.mjs";
import { encode16 } from "../png.mjs";

const PAGE = process.env.LOOKWRIGHT_DIST ?? fileURLToPath(new URL("../../../web/dist", import.meta.url));
const WINDOW = { width: 1000, height: 700, deviceScaleFactor: 1 };
/** How long anything may take in a page, in ms. */
const PATIENCE = 300_000;
/** What Firefox shares out among all pages, in KiB; one gets a fifth of it. */
const FIREFOX_SHARED = 150 << 10;

/** The page with one small demo frame, and without a service worker. @returns {Promise<string>} its folder */
export async function leanPage() {
  const folder = await mkdtemp(join(tmpdir(), "lookwright-lean-"));
  await cp(PAGE, folder, { recursive: true });
  const change = async (file, alter) => {
    const content = JSON.parse(await readFile(join(folder, file), "utf8"));
    await writeFile(join(folder, file), JSON.stringify(alter(content)));
  };
  await change("files.json", (list) => ({ ...list, release: null }));
  await change("demo/frames.json", (list) => ({ ...list, frames: list.frames.filter(({ id }) => id === list.first) }));
  const { frames: [{ file }] } = JSON.parse(await readFile(join(folder, "demo/frames.json"), "utf8"));
  await writeFile(join(folder, "demo", file), encode16(120, 80, (x, y) => [0.2 + x / 300, 0.3 + y / 300, 0.35]));
  return folder;
}

export class Machine {
  /** How often something was not kept for want of room, and that was said. */
  refused = 0;

  /**
   * @param {string} kind
   * @param {string} url of the page
   * @param {{ limited?: boolean }} [how] limited: whether there is little room and a core compiled in a hurry
   */
  static async make(kind, url, { limited = true } = {}) {
    const machine = new Machine();
    machine.scratch = await mkdtemp(join(tmpdir(), `lookwright-runs-${kind}-`));
    Object.assign(machine, { kind, url, limited });
    for (const name of ["profile", "downloads"]) await mkdir(join(machine.scratch, name));
    await machine.start();
    return machine;
  }

  async start() {
    const options = optionsFor(this.kind, join(this.scratch, "profile"), join(this.scratch, "downloads"));
    options.timeout = PATIENCE;
    if (this.limited && this.kind === "chromium") options.args = [...options.args, "--js-flags=--liftoff-only"];
    if (this.limited && this.kind === "firefox") {
      options.extraPrefsFirefox["javascript.options.wasm_optimizingjit"] = false;
      options.extraPrefsFirefox["dom.quotaManager.temporaryStorage.fixedLimit"] = FIREFOX_SHARED;
    }
    if (this.kind === "firefox") {
      // puppeteer wants to keep what it finds of them, and a killed browser may leave none.
      for (const name of ["user.js", "prefs.js"]) await writeFile(join(options.userDataDir, name), "", { flag: "a" });
    }
    this.browser = await puppeteer.launch(options);
  }

  /** A tab that shows nothing yet. */
  async tab() {
    const page = await this.browser.newPage();
    page.setDefaultTimeout(PATIENCE);
    page.on("dialog", (dialog) => dialog.accept().catch(() => {}));
    await page.setViewport(WINDOW);
    return page;
  }

  /** The page in a tab of its own. @param {string} [hash] */
  async open(hash = "") {
    const page = await this.tab();
    await this.show(page, hash);
    return page;
  }

  /** @param {import("puppeteer-core").Page} page @param {string} [hash] */
  async show(page, hash = "") {
    await page.goto("about:blank");
    await page.goto(this.url + hash);
    await begun(page);
  }

  /**
   * Limits what the page may keep: Chromium can be told so, Firefox begins with a limit.
   * @param {import("puppeteer-core").Page} page
   * @param {number} [bytes] none lifts the limit
   */
  async limit(page, bytes) {
    if (this.kind !== "chromium") return;
    const session = await page.createCDPSession();
    await session.send("Storage.overrideQuotaForOrigin", { origin: new URL(this.url).origin, ...(bytes === undefined ? {} : { quotaSize: bytes }) });
  }

  /** Chooses files from the disk. @param {import("puppeteer-core").Page} page @param {{ name: string, bytes: Buffer }[]} files */
  async choose(page, files) {
    const paths = files.map(({ name }) => join(this.scratch, name));
    await Promise.all(files.map(({ bytes }, i) => writeFile(paths[i], bytes)));
    await (await page.$("#picker")).uploadFile(...paths);
  }

  /** Closes every tab and clears what the page keeps. */
  async clear() {
    const page = await this.tab();
    for (const other of await this.browser.pages()) if (other !== page) await other.close().catch(() => {});
    await page.goto(`${this.url}icon.svg`);
    await this.limit(page);
    await page.evaluate(async () => {
      localStorage.clear();
      sessionStorage.clear();
      await new Promise((resolve, reject) => Object.assign(indexedDB.deleteDatabase("lookwright"), { onsuccess: resolve, onerror: reject, onblocked: reject }));
      const root = await navigator.storage.getDirectory();
      for await (const name of root.keys()) await root.removeEntry(name, { recursive: true });
    });
    return page;
  }

  /** Ends the browser at once, by its process's id, and starts it again. */
  async kill() {
    const child = this.browser.process();
    const ended = new Promise((resolve) => child.once("exit", resolve));
    process.kill(child.pid, "SIGKILL");
    await ended;
    await this.start();
  }

  async end() {
    await this.browser.close().catch(() => {});
    await rm(this.scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}

/** Waits until there is a desk to work on. */
export async function begun(page) {
  await ready({ page });
  await unfold({ page }, "scan", "contrast");
}

/** Loads the page anew. */
export async function reloaded(page) {
  await page.reload();
  await begun(page);
}
