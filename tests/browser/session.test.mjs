// What a person relies on: undo, links, reloads, and that a bad file changes nothing.
import assert from "node:assert/strict";
import { setTimeout as sleep } from "node:timers/promises";
import { inflateRawSync } from "node:zlib";
import { control, logFrame, notice, notices, openLogFrame, ready, settled, shownPixels, type, unfold } from "./desk.mjs";
import { DESKTOP, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { allKept } from "./kept.mjs";

const EDITS = { group: "edits" };
const slope = async (session) => (await control(session, "scan", "contrast", "Slope")).number.evaluate((it) => it.value);

inOneBrowser("undo and redo go through every edit, and a drag is one of them", async (session) => {
  await ready(session);
  await unfold(session, "scan", "contrast");
  const first = await slope(session);
  await type(session, "scan", "contrast", "Slope", 2.2);
  const { slider } = await control(session, "scan", "contrast", "Slope");
  const box = await slider.boundingBox();
  await session.page.mouse.move(box.x + box.width * 0.3, box.y + box.height / 2);
  await session.page.mouse.down();
  for (let i = 4; i <= 8; i += 1) await session.page.mouse.move(box.x + (box.width * i) / 10, box.y + box.height / 2);
  await session.page.mouse.up();
  await settled(session);
  const dragged = await slope(session);
  assert.ok(Number(dragged) > 2.5, dragged);

  await session.page.focus(".pane");
  const press = async (...keys) => {
    for (const key of keys.slice(0, -1)) await session.page.keyboard.down(key);
    await session.page.keyboard.press(keys.at(-1));
    for (const key of keys.slice(0, -1)) await session.page.keyboard.up(key);
    await settled(session);
  };
  await press("Control", "z");
  assert.equal(await slope(session), "2.20");
  await press("Control", "z");
  assert.equal(await slope(session), first);
  await press("Control", "Shift", "Z");
  await press("Control", "Shift", "Z");
  assert.equal(await slope(session), dragged);
  assert.equal(await session.page.$eval('[aria-label="Redo"]', (it) => it.disabled), true);
}, EDITS);

inEachBrowser("a control listens to arrow, page and end keys, and is reset by a key or a button", async (session) => {
  await ready(session);
  await unfold(session, "scan", "contrast");
  const { slider, reset } = await control(session, "scan", "contrast", "Slope");
  await slider.focus();
  await session.page.keyboard.press("End");
  assert.equal(await slope(session), "4.00");
  await session.page.keyboard.press("PageDown");
  await session.page.keyboard.press("ArrowLeft");
  assert.equal(await slope(session), "3.89");
  assert.equal(await slider.evaluate((it) => it.getAttribute("aria-valuetext")), "3.89\u00d7");
  await session.page.keyboard.press("Delete");
  const initial = await slope(session);
  assert.notEqual(initial, "3.89");
  assert.equal(await reset.evaluate((it) => it.disabled), true);
  await type(session, "scan", "contrast", "Slope", "9");
  assert.equal(await slope(session), "4.00");
  await reset.evaluate((it) => it.click());
  await settled(session);
  assert.equal(await slope(session), initial);
}, EDITS);

/** The look that an address ends with: base64url (RFC 4648) of deflate (RFC 1951) of JSON. */
function lookOf(hash) {
  const [, text] = /^#look=([A-Za-z0-9_-]+)$/.exec(hash) ?? [];
  return text && JSON.parse(inflateRawSync(Buffer.from(text, "base64url")).toString());
}

inOneBrowser("the address carries the look to another session, and a damaged one says so", async (session) => {
  await ready(session);
  await type(session, "scan", "contrast", "Slope", 2.4);
  await settled(session);
  const shown = await shownPixels(session, "after");
  let hash;
  for (let tries = 0; tries < 100 && lookOf(hash)?.scan?.contrast.slope !== 2.4; tries += 1) {
    await sleep(100);
    hash = await session.page.evaluate(() => location.hash);
  }
  assert.equal(lookOf(hash).scan.contrast.slope, 2.4);
  assert.ok(hash.length < 2000, `${hash.length} characters`);

  const other = await session.context.newPage();
  await other.setViewport(DESKTOP);
  await other.goto(session.url + hash);
  await ready({ page: other });
  await settled({ page: other });
  await unfold({ page: other }, "scan", "contrast");
  assert.equal(await slope({ page: other }), "2.40");
  assert.deepEqual((await shownPixels({ page: other }, "after")).pixels, shown.pixels);

  await other.goto("about:blank");
  await other.goto(`${session.url}${hash.slice(0, 30)}`);
  await ready({ page: other });
  assert.match(await notice({ page: other }, /link/), /^The link's look is damaged or cut short.*\.$/);
});

inEachBrowser("a reload brings back the frames, their settings and the look", async (session) => {
  await ready(session);
  await openLogFrame(session);
  await type(session, "scan", "contrast", "Slope", 2.3);
  await type(session, "intake", "trim", "Exposure", -0.5);
  await settled(session);
  const shown = await shownPixels(session, "after");
  await allKept(session.page);
  await session.page.reload();
  await ready(session);
  await settled(session);
  assert.equal(await session.page.$eval(".pane", (it) => it.getAttribute("aria-label")), "Picture quay_logc3.png");
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown.pixels);
});

inEachBrowser("a bad file gets one sentence and leaves the session as it is", async (session) => {
  await ready(session);
  await openLogFrame(session);
  const shown = await shownPixels(session, "after");
  const whole = logFrame();
  const huge = Buffer.from(whole);
  huge.writeUInt32BE(30_000, 16);
  huge.writeUInt32BE(30_000, 20);
  const bad = {
    "holiday.png": Buffer.from("not a picture"),
    "empty.jpg": Buffer.alloc(0),
    "cut.png": whole.subarray(0, whole.length / 3),
    "huge.png": huge,
    "look.json": Buffer.from('{"lookwright":1,"scan":{"contrst":{}}}'),
    "words.json": Buffer.from("{"),
  };
  for (const [name, bytes] of Object.entries(bad)) {
    await session.drop("body", { name, bytes });
    const sentence = await notice(session, new RegExp(`^${name.replace(".", "\\.")}: `));
    assert.ok(sentence.length > name.length + 15 && !sentence.includes("\n"), sentence);
  }
  assert.ok((await notices(session)).some((it) => it.includes("scan.contrst") || it.includes("words.json")));
  await settled(session);
  assert.equal(await session.page.$$eval(".reel-frame", (all) => all.filter((it) => it.hasAttribute("aria-current")).length), 1);
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown.pixels);
  // And it still works.
  await type(session, "scan", "contrast", "Slope", 3);
  await settled(session);
  assert.notDeepEqual((await shownPixels(session, "after")).pixels, shown.pixels);
});
