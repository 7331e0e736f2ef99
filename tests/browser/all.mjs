// All tests in one browser, in one process: it is started once, and the other browser's tests run
// beside them in another process (`in-chromium.mjs`, `in-firefox.mjs`).
import { readFile, readdir } from "node:fs/promises";

/**
 * @param {string} kind the browser
 * @param {boolean} pure whether tests that need no browser are run as well
 */
export async function all(kind, pure) {
  process.env.LOOKWRIGHT_BROWSERS = kind;
  const folder = new URL("./", import.meta.url);
  const files = (await readdir(folder)).filter((name) => name.endsWith(".test.mjs")).sort();
  for (const name of files) {
    const url = new URL(name, folder);
    const inBrowser = /from "\.\/(harness|launch)\.mjs"/.test(await readFile(url, "utf8"));
    if (pure || inBrowser) await import(url.href);
  }
}
