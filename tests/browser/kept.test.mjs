// Work is kept: over reloads, in two tabs, when it does not fit, when it can't be read, as a file.
import assert from "node:assert/strict";
import { setTimeout as sleep } from "node:timers/promises";
import { act, clickButton, control, notice, notices, openLogFrame, ready, settled, shownPixels, type, unfold } from "./desk.mjs";
import { DESKTOP, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { allKept, allTold, colourOf, firstRelease, keptStore, originalsKept, tiles } from "./kept.mjs";
import { flat8, noise8 } from "./png.mjs";
import { unzip } from "./zip.mjs";

const slope = async (session) => {
  await unfold(session, "scan", "contrast");
  return (await control(session, "scan", "contrast", "Slope")).number.evaluate((it) => it.value);
};
const press = (session, label) => session.page.$eval(`[aria-label="${label}"]`, (it) => it.click());
const flats = (count, first = 0) => Array.from({ length: count }, (_, i) => ({ name: `c${first + i}.png`, bytes: flat8(300, 200, colourOf(first + i)) }));
const names = async (session) => (await tiles(session.page)).map(({ name }) => name);
const reload = async (session) => {
  await session.page.reload();
  await ready(session);
  await settled(session);
};

inEachBrowser("a reload brings back frames, settings, and a history with names, the last edit among them", async (session) => {
  await ready(session);
  const demos = (await tiles(session.page)).length;
  await openLogFrame(session);
  await session.drop("body", ...flats(3));
  await type(session, "scan", "contrast", "Slope", 2.3);
  await allKept(session.page);
  await press(session, "Take c1.png off the reel");
  const shown = async () => (await settled(session), (await shownPixels(session, "after")).pixels);
  const before = await shown();
  // Nothing is waited for: the page is left at once.
  await type(session, "scan", "contrast", "Slope", 2.6);
  await reload(session);
  assert.equal(await slope(session), "2.60");
  assert.deepEqual((await names(session)).slice(demos), ["quay_logc3.png", "c0.png", "c2.png"]);
  const undo = await session.page.$eval('[aria-label="Undo"]', (it) => it.title);
  assert.match(undo, /^Undo Contrast: slope 2\.60\u00d7 \(Ctrl\+Z\), 3 kept$/);
  await press(session, "Undo");
  assert.deepEqual(await shown(), before);
  await press(session, "Undo");
  assert.deepEqual((await names(session)).slice(demos), ["quay_logc3.png", "c0.png", "c1.png", "c2.png"]);
  await press(session, "Undo");
  assert.notEqual(await slope(session), "2.30");
  await press(session, "Redo");
  assert.equal(await slope(session), "2.30");
  // What came back can be worked on.
  await session.page.click('.reel-frame[aria-label="c1.png"]');
  await session.page.waitForSelector('.pane[aria-label="Picture c1.png"]');
});

inOneBrowser("every frame can be taken off the reel, and brought back", async (session) => {
  await ready(session);
  const all = await names(session);
  await act(session, "every frame off the reel");
  await session.page.waitForSelector('.pane[aria-label="No picture"]');
  assert.deepEqual(await names(session), []);
  assert.match(await session.page.$eval(".pane-words", (it) => it.textContent), /^No frame is on the reel\./);
  assert.deepEqual(await session.accessibilityFaults(), []);
  await clickButton(session, ".notices", "Undo");
  await session.page.waitForSelector('.pane[aria-label^="Picture "]');
  assert.deepEqual(await names(session), all);
});

inEachBrowser("two tabs have work of their own, and closed work is offered again", async (session) => {
  await ready(session);
  await session.drop("body", ...flats(2));
  await type(session, "scan", "contrast", "Slope", 2.2);
  await allKept(session.page);
  const page = await session.context.newPage();
  await page.setViewport(DESKTOP);
  await page.goto(session.url);
  const other = { page };
  await ready(other);
  assert.equal((await names(other)).includes("c0.png"), false);
  await type(other, "scan", "contrast", "Slope", 3.3);
  await press(other, "Take Night ferry off the reel").catch(() => {});
  await allKept(page);
  for (const [tab, value, has] of [[session, "2.20", true], [other, "3.30", false]]) {
    await reload(tab);
    assert.equal(await slope(tab), value);
    assert.equal((await names(tab)).includes("c0.png"), has);
  }
  await page.close();
  await sleep(500);
  const third = { page: await session.context.newPage() };
  await third.page.setViewport(DESKTOP);
  await third.page.goto(session.url);
  await ready(third);
  assert.equal(await slope(third), "3.30");
  // All of it is listed, and says where it is open.
  await act(third, "Kept work");
  const listed = await third.page.waitForSelector("dialog.kept[open]");
  const told = await listed.$$eval(".kept-list > li", (all) => all.map((it) => it.textContent));
  assert.equal(told.length, 2);
  assert.ok(told.some((it) => /on this desk/.test(it)) && told.some((it) => /2 frames of yours.*open in another tab/.test(it)), told.join("\n"));
  const view = Object.assign(Object.create(Object.getPrototypeOf(session)), session, third);
  assert.deepEqual(await view.accessibilityFaults(), []);
});

inEachBrowser("what does not fit is said on its tile, before a reload could lose it", async (session) => {
  const cap = () => {
    navigator.storage.estimate = async () => ({ quota: (16 << 20) + 300_000, usage: 0 });
  };
  await session.page.evaluateOnNewDocument(cap);
  await reload(session);
  await session.drop("body", { name: "small.png", bytes: noise8(200, 200, 1) }, { name: "large.png", bytes: noise8(600, 600, 2) });
  await allTold(session.page);
  const kept = Object.fromEntries((await tiles(session.page)).map((tile) => [tile.name, tile.kept]));
  assert.equal(kept["small.png"], "yes");
  assert.equal(kept["large.png"], "no");
  assert.match(await notice(session, /not kept/), /^A frame is not kept in this browser, and would be gone after a reload: this browser has no room left for it\./);
  assert.equal(await session.page.$eval(".unkept", (it) => it.hidden), false);
  assert.deepEqual(await session.accessibilityFaults(), []);
  // It can be worked on and goes into the session's file.
  await session.page.click('.reel-frame[aria-label^="large.png"]');
  await session.page.waitForSelector('.pane[aria-label="Picture large.png"]');
  await clickButton(session, ".notices", "Save session");
  const { bytes } = await session.downloads.next(/\.session\.zip$/);
  const record = JSON.parse(unzip(bytes).get("session.json"));
  assert.equal(record.record.record, 3);
  assert.deepEqual(record.record.frames.filter(({ url }) => !url).map(({ name }) => name), ["small.png", "large.png"]);
});

inEachBrowser("a session goes out as one file and comes in again elsewhere", async (session) => {
  await ready(session);
  await session.drop("body", ...flats(2));
  await type(session, "scan", "contrast", "Slope", 2.7);
  await allKept(session.page);
  await session.page.click(".pill-lit");
  await clickButton(session, "dialog[open]", "Save session");
  const { name, bytes } = await session.downloads.next(/\.session\.zip$/);
  await session.page.evaluate(() => sessionStorage.setItem("lookwright.session", ""));
  await reload(session);
  assert.equal((await names(session)).includes("c0.png"), false);
  await session.drop("body", { name, bytes: bytes.subarray(0, bytes.length / 2) });
  await session.page.waitForFunction(() => /damaged or cut short/.test(document.querySelector(".failures-list")?.textContent));
  await session.drop("body", { name, bytes });
  await notice(session, /is kept beside the work on the desk/);
  await clickButton(session, ".notices", "Go on with it");
  await session.page.waitForSelector('.reel-frame[aria-label="c1.png"]');
  await ready(session);
  await settled(session);
  assert.equal(await slope(session), "2.70");
  await session.page.click('.reel-frame[aria-label="c1.png"]');
  await session.page.waitForSelector('.pane[aria-label="Picture c1.png"]');
  await press(session, "Undo");
  assert.notEqual(await slope(session), "2.70");
});

inOneBrowser("what is attached to the work stays, and what nothing can bring back is let go of", async (session) => {
  const { page } = session;
  await ready(session);
  await session.drop("body", ...flats(3));
  await allKept(page);
  const whole = await keptStore(page);
  const [gone, away, stays] = whole.record.frames.filter(({ url }) => !url).map(({ id }) => id);
  assert.deepEqual(await originalsKept(page), [gone, away, stays].sort());
  await page.goto(`${session.url}icon.svg`);
  const attached = { versions: { v: 1, all: ["first"] } };
  await keptStore(page, { ...whole, record: { ...whole.record, attached, base: { ...whole.record.base, away: [gone] } } });
  await page.goto(session.url);
  await ready(session);
  const originals = async (wanted) => {
    for (let tries = 0; tries < 200 && (await originalsKept(page)).length > wanted.length; tries += 1) await sleep(50);
    assert.deepEqual(await originalsKept(page), wanted.sort());
  };
  await originals([away, stays]);
  await press(session, "Take c1.png off the reel");
  await type(session, "scan", "contrast", "Slope", 2.2);
  await allKept(page);
  const { record } = await keptStore(page);
  assert.deepEqual(record.attached, attached);
  assert.deepEqual(record.frames.filter(({ url }) => !url).map(({ id }) => id), [away, stays]);
  // Undo could bring that one back; a person may say that it need not.
  await originals([away, stays]);
  await act(session, "Kept work");
  for (const words of [/^Free .*: 1 frame off the reel$/, /^Free it/]) {
    const button = await page.waitForFunction((source) => [...document.querySelectorAll("dialog.kept[open] button")].find((it) => new RegExp(source).test(it.textContent)), {}, words.source);
    await button.evaluate((it) => it.click());
  }
  await originals([stays]);
  forgiveIcon(session);
});

/** A file that is no page has no icon, and browsers ask for one. */
function forgiveIcon(session) {
  const forgiven = /favicon|404 \(Not Found\)/;
  session.problems.push(...session.problems.splice(0).filter((it) => !forgiven.test(it)));
}

/** What may have become of a record, and what is then said of it. */
const ALTERED = {
  "a newer record": [(record) => (record.record = 9), /newer release/, false],
  "a newer look": [(record) => (record.base.look.lookwright = 9), /version 9 of the look/, true],
  "a renamed control": [(record) => (record.base.look = { ...record.base.look, scan: { contrast: { slant: 2 } } }), /scan\.contrast\.slant/, true],
  "a renamed encoding": [(record) => (record.base.frames[record.frames[0].id] = { source: { encoding: "logc9" } }), /intake\.source\.encoding/, true],
  "no list of frames": [(record) => delete record.frames, /list of frames/, false],
};

inOneBrowser("kept work that can't be read is offered, and stops nobody", async (session) => {
  await ready(session);
  await session.drop("body", ...flats(1));
  await type(session, "scan", "contrast", "Slope", 2.4);
  await allKept(session.page);
  const whole = await keptStore(session.page);
  for (const [title, [alter, why, mends]] of Object.entries(ALTERED)) {
    await session.page.goto(`${session.url}icon.svg`);
    const altered = structuredClone(whole);
    alter(altered.record);
    await keptStore(session.page, altered);
    await session.page.goto(session.url);
    await ready(session);
    const words = await session.page.$eval("dialog.trouble[open]", (it) => it.textContent);
    assert.match(words, why, title);
    assert.equal(/Go on without that/.test(words), mends, title);
    if (title === "a renamed control") {
      assert.deepEqual(await session.accessibilityFaults(), []);
      await clickButton(session, "dialog.trouble", "Go on without that");
      await session.page.waitForSelector('.reel-frame[aria-label="c0.png"]');
      await ready(session);
    } else {
      await clickButton(session, "dialog.trouble", "Download it");
      const { bytes } = await session.downloads.next(/\.session\.zip$/);
      const files = [...unzip(bytes).keys()];
      const expected = title === "no list of frames" ? [] : [`originals/${whole.record.frames.at(-1).id}`];
      assert.deepEqual(files, ["session.json", ...expected], title);
      await clickButton(session, "dialog.trouble", "Start fresh, keep a copy");
      await reload(session);
      assert.equal(await session.page.$("dialog.trouble[open]"), null, title);
    }
  }
  forgiveIcon(session);
});

inOneBrowser("a page that is put to sleep leaves no worker alive", async (session) => {
  await session.page.evaluateOnNewDocument(() => {
    globalThis.alive = new Set();
    globalThis.Worker = class extends Worker {
      constructor(...all) {
        super(...all);
        globalThis.alive.add(this);
      }
      terminate() {
        globalThis.alive.delete(this);
        super.terminate();
      }
    };
  });
  await reload(session);
  const alive = () => session.page.evaluate(() => globalThis.alive.size);
  assert.notEqual(await alive(), 0);
  await session.page.evaluate(() => void dispatchEvent(new PageTransitionEvent("pagehide", { persisted: true })));
  assert.equal(await alive(), 0);
  // What is asked of it all the same does not go round for ever, and says so.
  await type(session, "scan", "contrast", "Slope", 2.2);
  await notice(session, /The page was left\./);
  session.problems.push(...session.problems.splice(0).filter((it) => it !== "page error: The page was left."));
});

inOneBrowser("the first release's session is gone on with, a vanished demo frame and all", async (session) => {
  await session.page.goto(`${session.url}icon.svg`);
  await session.page.evaluate(firstRelease, { slope: 2.9, name: "Before", frames: [{ id: "own", name: "own.png", bytes: [...flat8(300, 200, [200, 30, 90])] }], vanished: true });
  await session.page.goto(session.url);
  await ready(session);
  await settled(session);
  assert.equal(await session.page.$eval(".pane", (it) => it.getAttribute("aria-label")), "Picture own.png");
  assert.equal(await slope(session), "2.90");
  assert.equal(await session.page.$eval(".look-name", (it) => it.value), "Before");
  await session.page.click('.reel-frame[aria-label^="Vanished"]');
  await session.page.waitForSelector('.pane[aria-label="Vanished could not be opened"]');
  assert.match(await session.page.$eval(".pane-words", (it) => it.textContent), /^Vanished could not be opened: it could not be fetched/);
  await reload(session);
  assert.deepEqual(await names(session), ["own.png", "Vanished"]);
  forgiveIcon(session);
  assert.deepEqual(session.problems.splice(0).filter((it) => !/vanished/.test(it)), []);
});

inOneBrowser("names are as long in any script, and longer ones are shortened with a word", async (session) => {
  await ready(session);
  const name = async (value) => {
    await session.page.$eval(".look-name", (it, text) => {
      it.value = text;
      it.dispatchEvent(new Event("change"));
    }, value);
    await settled(session);
    await allKept(session.page);
    await reload(session);
    return session.page.$eval(".look-name", (it) => it.value);
  };
  for (const letter of ["\u6e2f", "\u{1f39e}"]) assert.equal(await name(letter.repeat(200)), letter.repeat(200));
  assert.equal((await notices(session)).some((it) => /long/.test(it)), false);
  const long = "\u6e2f".repeat(300);
  await session.page.$eval(".look-name", (it, text) => {
    it.value = text;
    it.dispatchEvent(new Event("change"));
  }, long);
  assert.equal(await notice(session, /shortened/), "The name was shortened to 200 characters.");
  await session.drop("body", { name: "long.json", bytes: Buffer.from(JSON.stringify({ lookwright: 1, name: long })) });
  assert.equal(await notice(session, /^long\.json: /), "long.json: Its name was shortened to 200 characters.");
});
