// The right frame is on screen, whatever is clicked; bad files are named; what dies comes back.
import assert from "node:assert/strict";
import { mkdtemp, readFile, rename, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { setTimeout as sleep } from "node:timers/promises";
import { clickButton, control, lookwright, notice, notices, openLogFrame, ready, settled, shownPixels, type, unfold } from "./desk.mjs";
import { Session, copyOfPage, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { allKept, allTold, colourOf, tiles, wander, wrongFrame } from "./kept.mjs";
import { KINDS } from "./launch.mjs";
import { flat8, noise8, profiled } from "./png.mjs";

const flats = (count, width = 300, height = 200) => Array.from({ length: count }, (_, i) => ({ name: `c${i}.png`, bytes: flat8(width, height, colourOf(i)) }));
/** How many clicks; `node --test` in CI makes few, and more are made by hand. */
const CLICKS = Number(process.env.LOOKWRIGHT_CLICKS ?? 24);

inOneBrowser("three frames dropped at once and clicks at any pace end on the frame that was clicked last", async (session) => {
  await ready(session);
  await session.drop("body", ...flats(3), ...flats(1, 4000, 3000).map(({ bytes }) => ({ name: "large.png", bytes })));
  const result = await wander(session.page, { clicks: CLICKS, least: 0, most: 400, seed: 3 });
  assert.deepEqual(result.wrong, []);
  await allTold(session.page);
  assert.equal(await wrongFrame(session.page), null);
  assert.deepEqual(await notices(session).then((all) => all.filter((it) => /not open here|undefined|null/.test(it))), []);
});

inOneBrowser("a picture whose colour profile is a table is opened by the whole core", async (session) => {
  await ready(session);
  // The profile of a TIFF, where "acsp" stands 36 bytes behind the beginning (ICC.1:2022, 7.2).
  const tiff = await readFile(new URL("../../crates/picture/tests/data/table.tif", import.meta.url));
  const profile = tiff.subarray(tiff.indexOf("acsp") - 36);
  const icc = profile.subarray(0, profile.readUInt32BE(0));
  await session.drop("body", { name: "table.png", bytes: profiled(flat8(60, 40, [0, 51, 0]), icc) });
  await session.page.waitForSelector('.pane[aria-label="Picture table.png"]');
  await settled(session);
  await allTold(session.page);
  await unfold(session, "intake");
  const read = await session.page.$$eval("#panel select", (all) => all.map((it) => it.value));
  assert.ok(read.includes("display-ap0"), read.join());
});

inOneBrowser("what is set lands on the frame that was chosen, though it is still being opened", async (session) => {
  await ready(session);
  // A tile says how far its file is.
  await session.page.evaluate(() => {
    globalThis.signs = new Set();
    const look = () => document.querySelectorAll(".reel-sign").forEach((it) => globalThis.signs.add(it.textContent));
    new MutationObserver(look).observe(document.querySelector(".reel"), { subtree: true, childList: true, characterData: true });
  });
  await session.drop("body", ...flats(1), { name: "large.png", bytes: noise8(2400, 1600, 1) });
  await allKept(session.page);
  const signs = await session.page.evaluate(() => [...globalThis.signs]);
  assert.ok(signs.includes("waits") && signs.includes("decoding") && signs.some((it) => /^reading \d+\u00a0%$/.test(it)), signs.join(", "));
  await session.page.click('.reel-frame[aria-label^="large.png"]');
  await type(session, "intake", "trim", "Exposure", 1.5);
  await session.page.waitForSelector('.pane[aria-label="Picture large.png"]');
  await settled(session);
  const exposure = async () => (await control(session, "intake", "trim", "Exposure")).number.evaluate((it) => it.value);
  assert.equal(await exposure(), "+1.50");
  await session.page.click('.reel-frame[aria-label="c0.png"]');
  await session.page.waitForSelector('.pane[aria-label="Picture c0.png"]');
  assert.equal(await exposure(), "0.00");
});

inOneBrowser("an opening is cancelled, and a frame that was taken off the reel before it was read comes back whole", async (session) => {
  const { page } = session;
  await ready(session);
  await page.evaluate(() => {
    const label = "Take large.png off the reel";
    new MutationObserver((_, observer) => {
      const away = document.querySelector(`.reel-list li[data-stage="opening"] .reel-away[aria-label="${label}"]`);
      if (!away) return;
      observer.disconnect();
      away.click();
    }).observe(document.querySelector(".reel"), { subtree: true, attributes: true });
  });
  await session.drop("body", ...flats(1), { name: "large.png", bytes: noise8(2400, 1600, 1) });
  await notice(session, /^large\.png is off the reel\.$/);
  assert.equal((await tiles(page)).some(({ name }) => name === "large.png"), false);
  await clickButton(session, ".notices", "Undo");
  await page.waitForSelector('.reel-frame[aria-label^="large.png"]');
  await allKept(page);
  assert.equal((await tiles(page)).find(({ name }) => name === "large.png").kept, "yes");
  assert.equal(await page.$(".failures:not([hidden])"), null);
  await page.waitForSelector('.pane[aria-label="Picture c0.png"]');
  await page.evaluate(async () => {
    document.querySelector('.reel-frame[aria-label^="large.png"]').click();
    const cancel = [...document.querySelectorAll(".pane-words button")].find((it) => it.textContent === "Cancel");
    while (cancel.hidden) await new Promise((resolve) => setTimeout(resolve));
    cancel.click();
  });
  await page.waitForSelector('.pane[aria-label="Picture c0.png"]');
  assert.equal(await wrongFrame(page), null);
  await page.waitForSelector('.reel-list li[data-stage="ready"] .reel-frame[aria-label="large.png"]');
});

inOneBrowser("of six files the three bad ones are all named with their reasons, until they are put away", async (session) => {
  await ready(session);
  const bad = ["a.png", "b.jpg", "c.tif"].map((name) => ({ name, bytes: Buffer.from("no picture") }));
  const before = await tiles(session.page);
  await session.drop("body", ...flats(3).flatMap((good, i) => [good, bad[i]]));
  await allTold(session.page);
  await session.page.waitForSelector(".failures:not([hidden])");
  const said = await session.page.$$eval(".failures-list p", (all) => all.map((it) => it.textContent));
  assert.equal(said.length, 3);
  said.forEach((words, i) => assert.match(words, new RegExp(`^${bad[i].name}: .{15,}`)));
  assert.deepEqual(await session.accessibilityFaults(), []);
  const after = (await tiles(session.page)).slice(before.length);
  assert.deepEqual(after.map(({ stage }) => stage), ["ready", "failed", "ready", "failed", "ready", "failed"]);
  assert.equal(after[0].current, true);
  await sleep(300);
  await clickButton(session, ".failures", "Try again");
  await session.page.waitForFunction(() => document.querySelectorAll(".failures-list p").length === 3);
  await session.page.click('[aria-label="Put the list away"]');
  await session.page.waitForSelector(".failures[hidden]");
});

for (const kind of KINDS) {
  test(`formats whose part of the page can't be loaded are named, nothing else is lost, and they open once it can (${kind})`, async () => {
    const folder = await copyOfPage(await mkdtemp(join(tmpdir(), "lookwright-page-")));
    const session = await Session.open(kind, { folder });
    try {
      await ready(session);
      const { page } = session;
      const input = await openLogFrame(session);
      const before = await shownPixels(session, "after");
      const tiff = join(session.scratch, "grey.tif");
      await lookwright("render", new URL("../../web/looks/grey-quay.json", import.meta.url).pathname, input, "--from", "logc3", "-o", tiff);
      const core = join(folder, "pkg/lookwright_wasm_bg.wasm");
      await rename(core, `${core}.away`);
      await session.drop("body", { name: "grey.tif", bytes: await readFile(tiff) });
      await page.waitForSelector(".failures:not([hidden])");
      assert.match(await page.$eval(".failures-list p", (it) => it.textContent), /^grey\.tif: Part of the page could not be loaded\./);
      await page.waitForSelector('.pane[aria-label="Picture quay_logc3.png"]');
      await settled(session);
      assert.deepEqual(await shownPixels(session, "after"), before);
      await session.expectProblem(/404/);
      session.problems.splice(0);

      await rename(`${core}.away`, core);
      await clickButton(session, ".failures", "Try again");
      await page.waitForSelector('.pane[aria-label="Picture grey.tif"]');
      await settled(session);
      // What the worker held before went with it.
      await page.click('.reel-frame[aria-label="quay_logc3.png"]');
      await page.waitForSelector('.pane[aria-label="Picture quay_logc3.png"]');
      await settled(session);
      assert.deepEqual(await shownPixels(session, "after"), before);
      session.expectNoProblems();
    } catch (error) {
      await session.keepPicture(`formats ${kind}`).catch(() => {});
      throw error;
    } finally {
      await session.close();
      await rm(folder, { recursive: true, force: true });
    }
  });
}

inOneBrowser("a link's look stands beside one's own, and a bad link changes nothing", async (session) => {
  await ready(session);
  const slope = async () => (await control(session, "scan", "contrast", "Slope")).number.evaluate((it) => it.value);
  const address = async (before) => {
    await session.page.waitForFunction((it) => location.hash.length > 40 && location.hash !== it, {}, before);
    return session.page.evaluate(() => location.hash);
  };
  const first = await address("");
  await type(session, "scan", "contrast", "Slope", 3.1);
  const theirs = await address(first);
  await type(session, "scan", "contrast", "Slope", 1.8);
  await allKept(session.page);
  await address(theirs);
  const go = (hash) => session.page.evaluate((it) => void (location.hash = it), hash);
  const bad = { [theirs.slice(0, 40)]: /damaged or cut short/, "#look=%%%": /damaged or cut short/ };
  for (const [hash, words] of Object.entries(bad)) {
    await go(hash);
    assert.match(await notice(session, words), /what is here stays as it is/);
    assert.equal(await slope(), "1.80");
  }
  for (const tail of ["", "&utm=1", "==", ").", "%3D"]) {
    await go(theirs + tail);
    await session.page.waitForSelector(".received:not([hidden])");
    assert.equal(await slope(), "1.80", tail);
    await clickButton(session, ".received", "Put away");
    await session.page.waitForSelector(".received[hidden]");
  }
  // As a new page over kept work, too.
  await session.page.goto("about:blank");
  await session.page.goto(session.url + theirs);
  await ready(session);
  await session.page.waitForSelector(".received:not([hidden])");
  await unfold(session, "scan", "contrast");
  assert.equal(await slope(), "1.80");
  await settled(session);
  const own = (await shownPixels(session, "after")).pixels;
  await clickButton(session, ".received", "Compare");
  await settled(session);
  assert.deepEqual((await shownPixels(session, "before")).pixels, own);
  assert.notDeepEqual((await shownPixels(session, "after")).pixels, own);
  assert.deepEqual(await session.accessibilityFaults(), []);
  await clickButton(session, ".received", "Use it");
  await settled(session);
  assert.equal(await slope(), "3.10");
  await session.page.click('[aria-label="Undo"]');
  assert.equal(await slope(), "1.80");
});

inEachBrowser("a worker that dies is started again, and says so", async (session) => {
  await session.page.evaluateOnNewDocument(() => {
    globalThis.workers = [];
    globalThis.Worker = class extends Worker {
      constructor(...all) {
        super(...all);
        globalThis.workers.push(this);
      }
    };
  });
  await session.page.reload();
  await ready(session);
  await settled(session);
  const before = await shownPixels(session, "after");
  await session.page.evaluate(() => globalThis.workers.forEach((worker) => worker.terminate()));
  assert.match(await notice(session, /stopped/), /was started again; nothing was lost\.$/);
  await type(session, "scan", "contrast", "Slope", 3.3);
  await settled(session);
  assert.notDeepEqual((await shownPixels(session, "after")).pixels, before.pixels);
});

inEachBrowser("the reel is moved by wheel, drag and keys, and follows the current frame", async (session) => {
  await ready(session);
  await session.drop("body", ...flats(20));
  await allKept(session.page);
  const left = () => session.page.$eval(".reel-list", (it) => Math.round(it.scrollLeft));
  const inView = (name) =>
    session.page.$eval(`.reel-frame[aria-label="${name}"]`, (it) => {
      const [tile, list] = [it, it.closest(".reel-list")].map((el) => el.getBoundingClientRect());
      return tile.left >= list.left - 1 && tile.right <= list.right + 1;
    });
  const { x, y, width } = await (await session.page.$(".reel-list")).boundingBox();
  await session.page.$eval(".reel-list", (it) => (it.scrollLeft = 0));
  await session.page.mouse.move(x + width / 2, y + 30);
  await session.page.mouse.wheel({ deltaY: 240 });
  await session.page.waitForFunction(() => document.querySelector(".reel-list")?.scrollLeft > 100);
  const [current, before] = [await session.page.$eval(".pane", (it) => it.getAttribute("aria-label")), await left()];
  await session.page.mouse.down();
  await session.page.mouse.move(x + width / 2 - 150, y + 30, { steps: 5 });
  await session.page.mouse.up();
  assert.ok((await left()) >= before + 100, `${await left()} after ${before}`);
  assert.equal(await session.page.$eval(".pane", (it) => it.getAttribute("aria-label")), current);
  await session.page.focus('.reel-frame[aria-current="true"]');
  await session.page.keyboard.press("End");
  assert.equal(await inView("c19.png"), true);
  await session.page.keyboard.press("Enter");
  await session.page.waitForSelector('.pane[aria-label="Picture c19.png"]');
  await session.page.keyboard.press("Home");
  await session.drop("body", { name: "new.png", bytes: flat8(300, 200, [9, 99, 199]) });
  await session.page.waitForSelector('.pane[aria-label="Picture new.png"]');
  assert.equal(await inView("new.png"), true);
});

const SMALL = { width: 844, height: 390, deviceScaleFactor: 1 };

inOneBrowser("what is told covers a third of a small screen at most, and the rest waits its turn", async (session) => {
  const { page } = session;
  await ready(session);
  const look = (name, i) => ({ name, bytes: Buffer.from(JSON.stringify({ lookwright: 1, name: `${i} `.repeat(150), note: "quay ".repeat(600) })) });
  const seen = () =>
    page.evaluate(() => {
      const region = document.querySelector("#notices");
      const cards = [...region.children].filter((it) => it.getClientRects().length > 0);
      return { share: region.getBoundingClientRect().height / innerHeight, cards: cards.length, waiting: Number.parseInt(region.dataset.waiting ?? "0"), newest: cards.at(-1)?.querySelector("p").textContent };
    });
  await session.drop("body", { name: "bad.png", bytes: Buffer.from("no picture") }, look("one.json", 1));
  await notice(session, /^The look of one\.json/);
  await page.evaluate(() => void (location.hash = "#look=%%%"));
  await notice(session, /damaged or cut short/);
  const crowded = await seen();
  assert.ok(crowded.share <= 1 / 3, `${crowded.share}`);
  assert.ok(crowded.cards >= 1 && crowded.waiting >= 2, JSON.stringify(crowded));
  assert.match(crowded.newest, /damaged or cut short/);
  assert.deepEqual(await session.accessibilityFaults("#notices"), []);
  // Each comes when there is room for it, until none is left.
  for (let left = crowded.cards + crowded.waiting; left > 0; left -= 1) {
    const { share, cards, waiting } = await seen();
    assert.ok(share <= 1 / 3 && cards >= 1, `${share}, ${cards}`);
    // Some go by themselves meanwhile.
    if (cards + waiting < left) left = cards + waiting;
    await page.evaluate(() => [...document.querySelectorAll("#notices > :not([data-waits], [hidden]) .round")].at(-1).click());
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
  }
  assert.equal((await seen()).waiting, 0);
}, { viewport: SMALL });
