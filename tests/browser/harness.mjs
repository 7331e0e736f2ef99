// What every browser test starts from: the page, open in each browser, and whatever goes wrong in
// it collected.
import assert from "node:assert/strict";
import { cp, mkdir, mkdtemp, readFile, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, test } from "node:test";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { Downloads, choose, drop } from "./files.mjs";
import { KINDS, launch } from "./launch.mjs";
import { startServer } from "./server.mjs";

const require = createRequire(import.meta.url);
const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const failures = here("../../target/browser-failures");

/** A window of a desktop. */
export const DESKTOP = { width: 1440, height: 900, deviceScaleFactor: 1 };
/** A phone held upright. */
export const PHONE = { width: 390, height: 844, deviceScaleFactor: 2 };

/** The page, as `cargo xtask web` leaves it. */
const PAGE = process.env.LOOKWRIGHT_DIST ?? here("../../web/dist");
/** An empty page, for tests of the helpers themselves. */
export const BLANK = here("blank");

/** How long to wait for whatever the page does: machines for tests are slow and busy. */
const PATIENCE_MS = 120_000;

const servers = new Map();
const browsers = new Map();
/** The session that tests of a group share at present, by browser: its group, and itself. */
const shared = new Map();
/** Ends all browsers and servers that were begun. */
export async function endAll() {
  await Promise.all([...shared.keys()].map(endShared));
  await Promise.all([...browsers.values()].map(async (browser) => (await browser).close()));
  await Promise.all([...servers.values()].map(async (server) => (await server).stop()));
  for (const made of [browsers, servers]) made.clear();
}
after(endAll);

/** What `make` made for this key before, in this test file; it ends with the file. */
function once(made, key, make) {
  if (!made.has(key)) made.set(key, make(key));
  return made.get(key);
}

/** The address that a folder is served at, ending with a slash. */
export async function address(folder = PAGE) {
  return (await once(servers, folder, startServer)).url;
}

/** Ends the server of a folder, as if the network had gone. */
export async function stopServing(folder) {
  const server = await servers.get(folder);
  servers.delete(folder);
  await server.stop();
}

/** The page, as `cargo xtask web` leaves it, in a folder of its own. */
export async function copyOfPage(folder) {
  await cp(PAGE, folder, { recursive: true });
  return folder;
}

/** The page in a part of a browser that shares no storage and no files with any other. */
export class Session {
  /** Page errors, console errors, policy violations and failed requests, in the order they came. */
  problems = [];

  /**
   * @param {string} kind one of KINDS
   * @param {{path?: string, viewport?: object, folder?: string, offline?: boolean}} [options] path:
   *   what follows the address's slash; folder: what is served instead of the page; offline: whether
   *   the browser has service workers, which keep the whole release (seconds of work in each session)
   */
  static async open(kind, { path = "", viewport = DESKTOP, folder, offline = false } = {}) {
    const session = new Session();
    session.kind = kind;
    session.url = await address(folder);
    const browser = await once(browsers, kind, launch);
    session.context = await browser.newContext();
    session.scratch = await mkdtemp(join(tmpdir(), "lookwright-"));
    session.downloads = new Downloads(browser.downloads, session.scratch);
    try {
      session.page = await session.context.newPage();
      session.page.setDefaultTimeout(PATIENCE_MS);
      await session.page.setViewport(viewport);
      await session.#watch();
      if (!offline) await session.page.evaluateOnNewDocument(() => void delete Navigator.prototype.serviceWorker);
      await session.page.goto(session.url + path, { waitUntil: "load" });
    } catch (error) {
      await session.close();
      throw error;
    }
    return session;
  }

  async #watch() {
    const { page, problems } = this;
    // A page that is left breaks off what it was fetching.
    const left = /^NS_BINDING_ABORTED$|^net::ERR_ABORTED$|ServiceWorker intercepted the request and encountered/;
    page.on("error", (error) => problems.push(`crash: ${error.message}`));
    page.on("pageerror", (error) => {
      if (!left.test(error.message)) problems.push(`page error: ${error.message}`);
    });
    page.on("console", (message) => {
      if (message.type() === "error") problems.push(`console: ${message.text()}`);
    });
    page.on("requestfailed", (request) => {
      if (!left.test(request.failure()?.errorText ?? "")) problems.push(`request failed: ${request.url()} (${request.failure()?.errorText})`);
    });
    page.on("response", (response) => {
      if (response.status() >= 400) problems.push(`${response.status()}: ${response.url()}`);
    });
    await page.evaluateOnNewDocument(() => {
      document.addEventListener("securitypolicyviolation", (event) => {
        console.error(`policy violation: ${event.effectiveDirective} ${event.blockedURI}`);
      });
    });
  }

  /** Drops files on an element: see files.mjs. */
  drop(selector, ...files) {
    return drop(this.page, selector, ...files);
  }

  /** Chooses files in an input: see files.mjs. */
  choose(selector, ...paths) {
    return choose(this.page, selector, ...paths);
  }

  /**
   * Drags with the mouse.
   * @param {string} selector the element whose middle is taken hold of
   * @param {number} right CSS pixels
   * @param {number} down CSS pixels
   */
  async drag(selector, right, down) {
    const handle = await this.page.waitForSelector(selector, { visible: true });
    const { x, y, width, height } = await handle.boundingBox();
    const [startX, startY] = [x + width / 2, y + height / 2];
    await this.page.mouse.move(startX, startY);
    await this.page.mouse.down();
    await this.page.mouse.move(startX + right, startY + down, { steps: 10 });
    await this.page.mouse.up();
  }

  /**
   * What axe-core finds against WCAG 2.2 A and AA: one line per rule and element. In Chromium alone, and nothing in
   * Firefox: it judges the document and its styles, which are the same in both.
   * @param {string} [selector] the part of the page to look at
   * @returns {Promise<string[]>}
   */
  async accessibilityFaults(selector = "html") {
    if (this.kind !== "chromium") return [];
    const source = await readFile(require.resolve("axe-core/axe.min.js"), "utf8");
    await this.page.evaluate(source);
    const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
    return this.page.evaluate(
      async (within, values) => {
        const { violations } = await globalThis.axe.run(within, { runOnly: { type: "tag", values } });
        return violations.flatMap(({ id, help, nodes }) =>
          nodes.map((node) => `${id}: ${help}: ${node.target.join(" ")}`),
        );
      },
      selector,
      tags,
    );
  }

  /** Fails if anything went wrong in the page. */
  expectNoProblems() {
    assert.deepEqual(this.problems, []);
  }

  /**
   * Waits for a problem that the test provoked, as browsers tell of it a little later.
   * @param {RegExp} pattern
   * @param {number} [limit_ms]
   */
  async expectProblem(pattern, limit_ms = 10_000) {
    const end = Date.now() + limit_ms;
    while (!this.problems.some((problem) => pattern.test(problem))) {
      const seen = this.problems.join("\n") || "none";
      if (Date.now() > end) assert.fail(`no problem matches ${pattern}; there are:\n${seen}`);
      await sleep(50);
    }
  }

  /** Keeps a picture of the page for whoever looks into a failure. */
  async keepPicture(title) {
    await mkdir(failures, { recursive: true });
    const path = join(failures, `${title.replace(/[^\w]+/g, "-")}.png`);
    await this.page.screenshot({ path });
    console.error(`the page as it was: ${path}`);
  }

  async close() {
    await this.context.close();
    await rm(this.scratch, { recursive: true, force: true });
  }
}

async function endShared(kind) {
  const { session } = shared.get(kind) ?? {};
  shared.delete(kind);
  await session?.close();
}

/** A session for one test, or the one that the tests of its group share. */
async function sessionFor(kind, { group, ...options }) {
  const before = shared.get(kind);
  if (group && before?.group === group) {
    await before.session.page.evaluate(() => document.activeElement?.blur());
    return before.session;
  }
  await endShared(kind);
  const session = await Session.open(kind, options);
  if (group) shared.set(kind, { group, session });
  return session;
}

/**
 * A test that runs once in each browser, on a session of its own, and fails as well if anything
 * goes wrong in the page meanwhile. A test that provokes problems takes them out of
 * `session.problems`. Tests of one `group`, which follow each other, share a session, as the last of
 * them has left it: opening the page takes longer than what many of them do.
 * @param {string} title
 * @param {(session: Session) => Promise<void>} body
 * @param {object} [options] of Session.open, `group`, and `only`: the one browser that can do it
 */
export function inEachBrowser(title, body, options = {}) {
  for (const kind of KINDS.filter((it) => (options.only ?? it) === it)) {
    test(`${title} (${kind})`, async () => {
      const session = await sessionFor(kind, options);
      let passed = false;
      try {
        await body(session);
        session.expectNoProblems();
        passed = true;
      } catch (error) {
        if (session.problems.length > 0) console.error(`in the page, before it failed:\n${session.problems.join("\n")}`);
        await session.keepPicture(`${title} ${kind}`).catch(() => {});
        throw error;
      } finally {
        if (!options.group) await session.close();
        else if (!passed) await endShared(kind);
      }
    });
  }
}

/**
 * The same in one browser alone, for tests whose outcome our own code decides, whatever the browser: what follows
 * what, what is counted, what is said. Whatever a browser has a part in (its storage, files, input, layout, pixels)
 * is tested in each: Firefox takes half as long again, and two cores run everything.
 * @type {typeof inEachBrowser}
 */
export const inOneBrowser = (title, body, options = {}) => inEachBrowser(title, body, { ...options, only: "chromium" });
