// Starting a browser that is new in every respect and speaks to nobody but the page's server.
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import puppeteer from "puppeteer-core";

/** How long a browser may take to end. */
const PATIENCE_MS = 20_000;

/** The browsers that the page is tested in. */
export const ALL_KINDS = ["chromium", "firefox"];
/** Those that it is tested in here: LOOKWRIGHT_BROWSERS=firefox leaves out the others. */
export const KINDS = ALL_KINDS.filter((kind) =>
  (process.env.LOOKWRIGHT_BROWSERS ?? kind).split(",").includes(kind),
);

const PROGRAMS = {
  chromium: ["LOOKWRIGHT_CHROMIUM", "/usr/bin/chromium"],
  firefox: ["LOOKWRIGHT_FIREFOX", "/usr/bin/firefox-esr"],
};

/**
 * Starts a browser with an empty profile.
 * @param {string} kind one of KINDS
 * @returns {Promise<{downloads: string, newContext: () => Promise<import("puppeteer-core").BrowserContext>,
 *   close: () => Promise<void>}>} downloads: the folder that they go to
 */
export async function launch(kind) {
  const scratch = await mkdtemp(join(tmpdir(), `lookwright-${kind}-`));
  const [userDataDir, downloads] = ["profile", "downloads"].map((name) => join(scratch, name));
  await Promise.all([mkdir(userDataDir), mkdir(downloads)]);
  const browser = await puppeteer.launch(optionsFor(kind, userDataDir, downloads));
  const downloadBehavior = { policy: "allow", downloadPath: downloads };
  return {
    downloads,
    newContext: () =>
      browser.createBrowserContext(kind === "firefox" ? undefined : { downloadBehavior }),
    async close() {
      // Firefox once did not end when it was asked to, with all tests passed.
      const ended = browser.close().then(() => true, () => false);
      if (!(await Promise.race([ended, sleep(PATIENCE_MS, false, { ref: false })]))) browser.process()?.kill("SIGKILL");
      await rm(scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
    },
  };
}

/**
 * How puppeteer starts a browser.
 * @param {string} kind one of KINDS
 * @param {string} userDataDir its profile
 * @param {string} downloads the folder that they go to
 */
export function optionsFor(kind, userDataDir, downloads) {
  const [variable, usual] = PROGRAMS[kind];
  const executablePath = process.env[variable] ?? usual;
  if (!existsSync(executablePath)) {
    throw new Error(`${executablePath} is missing: install it, or name another with ${variable}`);
  }
  const common = { executablePath, headless: true, userDataDir, protocolTimeout: 300_000 };
  const own =
    kind === "firefox"
      ? { browser: "firefox", extraPrefsFirefox: firefoxPreferences(downloads) }
      : { browser: "chrome", args: CHROMIUM_FLAGS };
  return { ...common, ...own };
}

const CHROMIUM_FLAGS = [
  "--no-sandbox", // its sandbox does not start for root, as which machines for tests often run
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-dev-shm-usage",
  "--force-color-profile=srgb", // the canvas's pixels are compared with files
];

function firefoxPreferences(downloads) {
  return {
    "browser.download.folderList": 2,
    "browser.download.dir": downloads,
    "browser.download.useDownloadDir": true,
    "browser.download.always_ask_before_handling_new_types": false,
    "browser.download.alwaysOpenPanel": false,
    "gfx.color_management.mode": 0, // the canvas's pixels are compared with files
    "network.captive-portal-service.enabled": false,
    "network.connectivity-service.enabled": false,
    "services.settings.server": "",
  };
}
