// All tests in one browser, or every nth file of them, in one process: the browser is started once, and
// the others run beside them (`in-chromium.mjs`, `in-firefox-1.mjs`, `in-firefox-2.mjs`: Firefox takes
// half as long again as Chromium).
import { readFile, readdir } from "node:fs/promises";

/**
 * @param {string} kind the browser
 * @param {{ pure?: boolean, share?: number, of?: number }} [options] pure: whether tests that need no
 *   browser are run as well; share: 1 ... of, which of the shares of files
 */
export async function all(kind, { pure = false, share = 1, of = 1 } = {}) {
  process.env.LOOKWRIGHT_BROWSERS = kind;
  const folder = new URL("./", import.meta.url);
  const files = (await readdir(folder)).filter((name) => name.endsWith(".test.mjs")).sort();
  for (const name of files.filter((_, i) => i % of === share - 1)) {
    const url = new URL(name, folder);
    const inBrowser = /from "\.\/(harness|launch)\.mjs"/.test(await readFile(url, "utf8"));
    if (pure || inBrowser) await import(url.href);
  }
}
