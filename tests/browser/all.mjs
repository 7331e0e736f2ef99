// All tests in one browser, or a share of their files, in one process: the browser is started once, and
// the others run beside them (`in-firefox.mjs`, `in-chromium-1.mjs` and so on).
import { readFile, readdir } from "node:fs/promises";

/**
 * @param {string} kind the browser
 * @param {{ pure?: boolean, share?: number, of?: number }} [options] pure: whether tests that need no
 *   browser are run as well; share: 1 ... of, which of the shares, about as many tests in each
 */
export async function all(kind, { pure = false, share = 1, of = 1 } = {}) {
  process.env.LOOKWRIGHT_BROWSERS = kind;
  const folder = new URL("./", import.meta.url);
  const names = (await readdir(folder)).filter((name) => name.endsWith(".test.mjs")).sort();
  const files = await Promise.all(names.map(async (name) => ({ url: new URL(name, folder), ...read(await readFile(new URL(name, folder), "utf8"), kind) })));
  const shares = Array.from({ length: of }, () => ({ tests: 0, urls: /** @type {URL[]} */ ([]) }));
  const longestFirst = files.filter((file) => pure || file.inBrowser).sort((a, b) => b.tests - a.tests);
  for (const file of longestFirst) {
    const least = shares.reduce((a, b) => (b.tests < a.tests ? b : a));
    least.tests += file.tests;
    least.urls.push(file.url);
  }
  for (const url of shares[share - 1].urls.sort()) await import(url.href);
}

/** What a file of tests is, by its text; one that has its own way to open pages counts as four. @param {string} text @param {string} kind */
function read(text, kind) {
  const inBrowser = /from "\.\/(harness|launch)\.mjs"/.test(text);
  const calls = text.match(kind === "chromium" ? /^in(Each|One)Browser\(/gm : /^inEachBrowser\(/gm);
  return { inBrowser, tests: calls?.length ?? (inBrowser ? 4 : 0) };
}
