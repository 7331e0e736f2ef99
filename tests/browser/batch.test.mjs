// A saved reel: where it goes to, and a frame that can't be made.
import assert from "node:assert/strict";
import { test } from "node:test";
import { setTimeout as sleep } from "node:timers/promises";
import { zipTarget } from "../../web/js/choose/batch/target.js";
import { act, clickButton, openLogFrame, ready } from "./desk.mjs";
import { inOneBrowser } from "./harness.mjs";
import { unzip } from "./zip.mjs";

test("a file that is written as it comes is whole in the zip, and one that is too large is refused", async () => {
  const handed = [];
  const target = zipTarget("reel.zip", (_, blob) => handed.push(blob), 40 << 20);
  // Larger than what it is held in at a time, and its beginning is written again at the end, as containers do.
  const whole = Buffer.alloc((33 << 20) + 7, (i) => i);
  for (let i = 0; i < whole.length; i += 4099) whole[i] = (i * 31) & 0xff;
  const sink = await target.open("clip.webm");
  for (let at = 0; at < whole.length; at += 5_000_011) await sink.write(new Uint8Array(whole.subarray(at, at + 5_000_011)), at);
  whole.write("patched", 3);
  await sink.write(new Uint8Array(Buffer.from("patched")), 3);
  assert.equal(await sink.close(), "clip.webm");
  const left = await target.open("left.webm");
  await left.write(new Uint8Array(9), 0);
  await left.abort();
  const large = await target.open("large.webm");
  await assert.rejects(large.write(new Uint8Array(16), (40 << 20) - 15), /only fits into a folder/);
  await large.abort();
  await target.write("empty.txt", new Blob([]));
  await target.finish();
  const files = unzip(Buffer.from(await handed[0].arrayBuffer()));
  assert.deepEqual([...files.keys()], ["clip.webm", "empty.txt"]);
  assert.ok(files.get("clip.webm").equals(whole));
  assert.equal(files.get("empty.txt").length, 0);
});

/** How long the page keeps what it has fetched, in ms. */
const MOMENT = 10_500;

inOneBrowser("a frame that can't be made is listed, the others are saved, and it is made when one goes on", async (session) => {
  const { page } = session;
  await ready(session);
  await openLogFrame(session);
  await sleep(MOMENT);
  await page.evaluate(() => {
    const fetchIt = window.fetch;
    window.gone = true;
    window.fetch = (what, ...more) => (window.gone && String(what?.url ?? what).includes("market-dog") ? Promise.resolve(new Response(null, { status: 404 })) : fetchIt(what, ...more));
  });
  // A contact sheet does without it, and says so.
  await act(session, "Contact sheet");
  await page.waitForFunction(() => /^\d+ drawn, .* The market dog can\u2019t be read, and is left out\.$/.test(document.querySelector(".contact [role=status]")?.textContent));
  assert.doesNotMatch(await page.$eval(".contact-page", (it) => it.getAttribute("aria-label")), /dog/);
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await page.evaluate(() => dispatchEvent(new KeyboardEvent("keydown", { key: "S", shiftKey: true })));
  await page.waitForSelector(".batch:not(.contact)[open]");
  await page.select('.batch:not(.contact) select[aria-label="Format"]', "jpeg");
  await page.select('.batch:not(.contact) select[aria-label="Size"]', "1080");
  const rows = () => page.$$eval(".batch:not(.contact) .batch-rows li", (all) => all.map((it) => ({ name: it.querySelector(".batch-name").textContent, state: it.dataset.state, words: it.querySelector(".quiet").textContent })));
  const names = (await rows()).map(({ name }) => name);
  const at = names.findIndex((name) => /dog/i.test(name));
  const chosen = [at - 1, at, names.length - 1];
  await page.$$eval(".batch:not(.contact) .batch-rows li", (all, kept) => all.forEach((_, i) => kept.includes(i) || document.querySelectorAll(".batch:not(.contact) .batch-rows li")[i].querySelector("input").click()), chosen);
  await page.waitForFunction(() => /About /.test(document.querySelector(".batch:not(.contact) .batch-options > p")?.textContent));
  // Whoever goes through the list by keyboard stays where they are.
  await page.focus(".batch:not(.contact) .batch-rows li:first-child input");
  for (const checked of [true, false]) {
    await page.keyboard.press(" ");
    assert.deepEqual(await page.$eval(".batch:not(.contact) .batch-rows li:first-child input", (it) => [it === document.activeElement, it.checked]), [true, checked]);
  }
  await clickButton(session, ".batch:not(.contact)", "Save as a zip");
  const said = (pattern) => page.waitForFunction((wanted) => new RegExp(wanted).test(document.querySelector(".batch:not(.contact) [role=status]")?.textContent), {}, pattern.source);
  await said(/^2 of 3 saved into one zip, 1 could not be made\.$/);
  const after = await rows();
  assert.deepEqual(chosen.map((i) => after[i].state), ["done", "failed", "done"]);
  assert.match(after[at].words, /^it could not be fetched; try again$/);
  assert.deepEqual(await session.accessibilityFaults(".batch:not(.contact)"), []);
  await page.evaluate(() => (window.gone = false));
  await clickButton(session, ".batch:not(.contact)", "Go on");
  await said(/^3 of 3 saved/);
  const files = unzip((await session.downloads.next(/\.zip$/)).bytes);
  assert.deepEqual([...files.keys()].sort(), chosen.map((i) => names[i]).sort());
});
