// The page works without a network after the first visit, and is never a mixture of two releases.
import assert from "node:assert/strict";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { clickButton, notice, ready, settled, shownPixels } from "./desk.mjs";
import { Session, copyOfPage, stopServing } from "./harness.mjs";
import { KINDS } from "./launch.mjs";

/** How many of the looks the page is started with; more are gone through by hand. */
const STARTS = Number(process.env.LOOKWRIGHT_STARTS ?? 1);

/** A test on a page of its own, in each browser. */
function onItsOwn(title, body) {
  for (const kind of KINDS) {
    test(`${title} (${kind})`, async () => {
      const folder = await copyOfPage(await mkdtemp(join(tmpdir(), "lookwright-page-")));
      const session = await Session.open(kind, { folder, offline: true });
      try {
        await ready(session);
        await settled(session);
        await session.page.waitForFunction(() => navigator.serviceWorker.controller !== null, { polling: 100 });
        await body(session, folder);
      } catch (error) {
        await session.keepPicture(`${title} ${kind}`).catch(() => {});
        throw error;
      } finally {
        await session.close();
        await rm(folder, { recursive: true, force: true });
      }
    });
  }
}

onItsOwn("every look, every demo frame and the page itself are there without a network", async (session, folder) => {
  const { page } = session;
  const before = await shownPixels(session, "after");
  await stopServing(folder);
  const looks = await page.$$eval('.start [data-group="look"] .start-entry', (all) => all.map((it) => ({ id: it.dataset.id, title: it.querySelector(".start-label").textContent })));
  assert.equal(looks.length, 19);
  for (const [i, { id, title }] of looks.entries()) {
    await page.$eval(`.start-entry[data-id="${id}"]`, (it) => it.click());
    await page.waitForFunction((name) => document.querySelector(".look-name")?.value === name, { timeout: 10_000 }, title);
    // The last reload below is a start as well.
    if (i < STARTS - 1) await startsAgain(session);
  }
  for (let i = looks.length; i > 1; i -= 1) await page.click('[aria-label="Undo"]');
  await page.click('[aria-label="Undo"]');
  const frames = await page.$$eval(".reel-away", (all) => all.map((it) => it.getAttribute("aria-label").replace(/^Take | off the reel$/g, "")));
  const first = await page.$eval(".pane", (it) => it.getAttribute("aria-label"));
  for (const name of frames) {
    await page.click(`.reel-frame[aria-label="${name}"]`);
    await page.waitForSelector(`.pane[aria-label="Picture ${name}"]`);
  }
  await page.click(`.reel-frame[aria-label="${first.replace("Picture ", "")}"]`);
  await page.waitForSelector(`.pane[aria-label="${first}"]`);
  assert.deepEqual(await startsAgain(session), before);
});

/** Reloads the page: the picture is the same as before. @returns the pixels */
async function startsAgain(session) {
  await settled(session);
  const before = await shownPixels(session, "after");
  await session.page.waitForFunction(() => document.querySelector(".unkept")?.hidden);
  await session.page.reload({ waitUntil: "load" });
  await ready(session);
  await settled(session);
  const after = await shownPixels(session, "after");
  assert.deepEqual(after, before);
  return after;
}

onItsOwn("a new release is put on whole, when the person takes it", async (session, folder) => {
  const { page } = session;
  const change = async (file, from, to) => {
    const path = join(folder, file);
    const text = await readFile(path, "utf8");
    assert.ok(text.includes(from), `${file}: ${from}`);
    await writeFile(path, text.replaceAll(from, to));
  };
  const { release } = JSON.parse(await readFile(join(folder, "files.json"), "utf8"));
  const title = () => page.$eval('.start-entry[data-id="night-ferry"] .start-label', (it) => it.textContent);
  const old = await title();
  // The server is in the middle of being brought to another release: nothing is mixed.
  await change("looks/index.json", old, "A newer ferry");
  await change("sw.js", release, "newer");
  await page.reload();
  await ready(session);
  await page.waitForSelector('.start-entry[data-id="night-ferry"]');
  assert.equal(await title(), old);
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((it) => it.update().catch(() => {})));
  assert.equal(await page.evaluate(() => navigator.serviceWorker.getRegistration().then(({ waiting }) => waiting)), null);
  // Now it is there whole.
  await change("files.json", release, "newer");
  await page.reload();
  await ready(session);
  await notice(session, /^A new release of Lookwright is ready\./);
  assert.equal(await title(), old);
  await Promise.all([page.waitForNavigation(), clickButton(session, ".notices", "Put it on")]);
  await ready(session);
  await page.waitForSelector('.start-entry[data-id="night-ferry"]');
  assert.equal(await title(), "A newer ferry");
});
