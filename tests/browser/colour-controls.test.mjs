// Controls made for colour: pads, labels that are held, the history that one can go about in.
import assert from "node:assert/strict";
import { test } from "node:test";
import { act, control, openLogFrame, ready, settled, shownPixels, unfold } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";
import { fromRing, onRing } from "../../web/js/pure/pads.js";
import { canBeWithout, docWithout } from "../../web/js/pure/without.js";

test("a place on the ring is a hue and a strength, both ways, and its middle keeps the hue", () => {
  for (let hue = 0; hue < 360; hue += 7) {
    for (const amount of [0.01, 0.3, 1]) {
      const back = fromRing(onRing(hue, amount), 0);
      assert.ok(Math.abs(back.hue - hue) < 1e-9 && Math.abs(back.amount - amount) < 1e-12, `${hue} ${amount}`);
    }
  }
  assert.deepEqual(fromRing({ x: 0, y: 0 }, 214), { hue: 214, amount: 0 });
  assert.equal(fromRing({ x: 3, y: 4 }, 0).amount, 1);
});

test("a document without a control, a step or a stage has them neutral, and nothing else changed", () => {
  const number = (id, initial, neutral) => ({ kind: "number", id, label: id, default: initial, neutral });
  const step = (id, ...controls) => ({ id, label: id, on: true, controls });
  const catalogue = { amount: { default: 1 }, stages: [{ id: "scan", label: "Scan", steps: [step("contrast", number("slope", 1.68, 1)), step("points", number("red", 0, 0))] }] };
  const doc = { look: { lookwright: 2, scan: { contrast: { slope: 2 }, points: { red: 3 } } }, delivery: {}, frames: {} };
  const without = (what) => docWithout(catalogue, doc, null, what).look.scan;
  assert.deepEqual(without({ stage: "scan", step: "contrast", control: "slope" }), { contrast: { slope: 1 }, points: { red: 3 } });
  assert.deepEqual(without({ stage: "scan", step: "points" }), { contrast: { slope: 2 }, points: { red: 3, on: false } });
  assert.deepEqual(without({ stage: "scan" }), { contrast: { slope: 2, on: false }, points: { red: 3, on: false } });
  assert.deepEqual([{ stage: "intake", step: "source" }, { stage: "intake" }, { stage: "screen", step: "display" }, { stage: "intake", step: "trim" }, { stage: "lens" }].map(canBeWithout), [false, false, false, true, true]);
});

inEachBrowser("a pad sets two values as one entry, a held label shows the picture without it, and the history is gone about in", async (session) => {
  await ready(session);
  const { page } = session;
  await openLogFrame(session);
  await unfold(session, "scan", "points");
  const value = async (label) => (await control(session, "scan", "points", label)).number.evaluate((it) => Number(it.value.replace("\u2212", "-")));
  const entries = () => page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)[1]));
  const [warmth, tint, before] = [await value("Warmth"), await value("Tint"), await entries()];
  await session.drag('[data-step="points"] .pad', 40, -20);
  await settled(session);
  const set = [await value("Warmth"), await value("Tint")];
  assert.ok(set[0] > warmth && set[1] > tint, `${set} after ${warmth}, ${tint}`);
  assert.equal(await entries(), before + 1);

  const shown = (await shownPixels(session, "after")).pixels;
  const label = await page.waitForSelector('[data-stage="scan"] [data-control="warmth"] .row-label');
  const { x, y, width, height } = await label.boundingBox();
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  const mean = (pixels, channel) => pixels.reduce((sum, code, i) => sum + (i % 4 === channel ? code : 0), 0);
  // Without its warmth the picture has less red against blue.
  let held = shown;
  for (let tries = 0; tries < 200 && mean(held, 0) - mean(held, 2) >= mean(shown, 0) - mean(shown, 2); tries += 1) held = (await shownPixels(session, "after")).pixels;
  assert.ok(mean(held, 0) - mean(held, 2) < mean(shown, 0) - mean(shown, 2));
  assert.deepEqual([await value("Warmth"), await value("Tint")], set);
  await page.mouse.up();
  await page.waitForFunction(() => document.querySelector('.pane[aria-busy="false"]'));
  await settled(session);
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown);
  assert.equal(await page.$eval('[data-control="warmth"] .help', (it) => it.hidden), true, "a hold is no click");

  await act(session, "History");
  await page.waitForSelector(".history:not([hidden])");
  assert.deepEqual(await session.accessibilityFaults(".history"), []);
  const named = await page.$$eval(".history-entry", (all) => all.map((it) => it.textContent));
  assert.match(named[0], /^Printer points: warmth \+[\d.]+ points, tint \S+ points$/);
  await page.evaluate(() => [...document.querySelectorAll(".history-entry")].at(-1).click());
  await page.waitForFunction(() => document.querySelector(".history-entry:last-child, li:last-child > .history-entry[aria-current]"));
  assert.equal(await entries(), 0);
  await page.evaluate(() => document.querySelector(".history-entry").click());
  await settled(session);
  assert.equal(await entries(), before + 1);
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown);
});
