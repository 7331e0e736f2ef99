// Controls made for colour: pads, labels that are held, the history that one can go about in.
import assert from "node:assert/strict";
import { test } from "node:test";
import { act, control, openLogFrame, ready, settled, shownPixels, unfold } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { fromRing, fromWheel, onRing, onWheel } from "../../web/js/pure/pads.js";
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

test("a place on the wheel is a turn and a purity, both ways; behind the middle there is none", () => {
  for (let hue = 0; hue < 360; hue += 15) {
    for (const [turn, share] of [[-25, 0.1], [0, 0.5], [25, 1]]) {
      const back = fromWheel(onWheel({ hue, turn, share }), hue);
      assert.ok(Math.abs(back.turn - turn) < 1e-9 && Math.abs(back.share - share) < 1e-9, `${hue} ${turn} ${share}`);
    }
    assert.equal(fromWheel(onRing(hue + 180, 0.7), hue).share, 0);
  }
  // Seen from red, higher hues lie against the clock: above.
  assert.ok(onWheel({ hue: 0, turn: 20, share: 0.5 }).y > 0);
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

const WHEEL = '[data-step="bearings"]';
/** What a bearing's handle says: its turn and its purity, or its place. */
const says = ({ page }, label) => page.$eval(`${WHEEL} [aria-label="${label}"]`, (it) => it.getAttribute("aria-valuetext"));
const handleAt = async ({ page }, label) => {
  const { x, y, width, height } = await (await page.$(`${WHEEL} [aria-label="${label}"]`)).boundingBox();
  return [x + width / 2, y + height / 2];
};

inOneBrowser("bearings are turned, made purer and moved on their wheel, by hand and by key", async (session) => {
  await ready(session);
  const { page } = session;
  await unfold(session, "scan", "bearings");
  await settled(session);
  const entries = () => page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)?.[1] ?? 0));
  const [way, place] = ["Bearing 1: turn and purity", "Bearing 1: place"];
  assert.deepEqual([await says(session, way), await says(session, place)], ["turn 0.0\u00b0, purity 1.00\u00d7", "25\u00b0"]);
  await page.$eval(`${WHEEL} .pad`, (it) => it.querySelector(".wheel-way").focus());

  // Away from the middle along its own hue: purer, and hardly turned. One gesture, one entry.
  const before = await entries();
  let [x, y] = await handleAt(session, way);
  const along = [Math.cos((25 * Math.PI) / 180), -Math.sin((25 * Math.PI) / 180)];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.up();
  assert.equal(await entries(), before, "a press alone moves nothing");
  await page.mouse.down();
  await page.mouse.move(x + 20 * along[0], y + 20 * along[1], { steps: 6 });
  await page.mouse.up();
  await settled(session);
  const [, turned, purer] = /^turn (\S+)\u00b0, purity ([\d.]+)\u00d7$/.exec(await says(session, way));
  assert.ok(Math.abs(Number(turned.replace("\u2212", "-"))) <= 1 && Number(purer) > 1.5, `${turned} ${purer}`);
  assert.equal(await entries(), before + 1);

  // Ten times finer with Shift: 20 px across are a degree or so, where they were twenty without.
  [x, y] = await handleAt(session, way);
  await page.keyboard.down("Shift");
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 20 * along[1], y - 20 * along[0], { steps: 6 });
  await page.mouse.up();
  await page.keyboard.up("Shift");
  await settled(session);
  const finer = Math.abs(Number(/^turn (\S+)\u00b0/.exec(await says(session, way))[1].replace("\u2212", "-")) - Number(turned.replace("\u2212", "-")));
  assert.ok(finer > 0.4 && finer < 3, `${finer}`);

  [x, y] = await handleAt(session, way);
  await page.mouse.click(x, y, { count: 2 });
  await settled(session);
  assert.equal(await says(session, way), "turn 0.0\u00b0, purity 1.00\u00d7");

  // By key: steps of half a degree and a hundredth, a tenth of it with Shift; the circle has no end.
  const now = await entries();
  await page.focus(`${WHEEL} [aria-label="${way}"]`);
  for (const key of ["ArrowRight", "ArrowRight", "ArrowUp"]) await page.keyboard.press(key);
  assert.equal(await says(session, way), "turn +1.0\u00b0, purity 1.01\u00d7");
  await page.keyboard.down("Shift");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.up("Shift");
  assert.equal(await says(session, way), "turn +0.95\u00b0, purity 1.01\u00d7");
  assert.equal(await page.$eval(`${WHEEL} .wheel-readout`, (it) => it.textContent), "Bearing 1 at 25\u00b0: turn +0.95\u00b0, purity 1.01\u00d7");
  assert.equal(await entries(), now + 4);
  await page.keyboard.press("Delete");
  assert.equal(await says(session, way), "turn 0.0\u00b0, purity 1.00\u00d7");
  await page.focus(`${WHEEL} [aria-label="${place}"]`);
  for (let i = 0; i < 3; i += 1) await page.keyboard.press("PageDown");
  assert.equal(await says(session, place), "355\u00b0");

  // The numbers are folded, and come when one of them is asked for.
  const numbers = () => page.$$eval(`${WHEEL} .row[data-drawn]`, (all) => all.filter((it) => it.checkVisibility()).length);
  assert.equal(await numbers(), 0);
  await act(session, "Turn 2, hue bearings");
  assert.equal(await numbers(), 9);
  await page.waitForFunction(() => document.activeElement.closest('[data-control="turn_2"]'));
  await page.$eval(`${WHEEL} .wheel-fold`, (it) => it.click());
  assert.equal(await numbers(), 0);
  // A step that is off takes neither hand nor key.
  await page.$eval(`${WHEEL} .step-head .switch input`, (it) => it.click());
  assert.equal(await page.$$eval(`${WHEEL} .wheel-handle[tabindex="0"]`, (all) => all.length), 0);
  await session.drag(`${WHEEL} .wheel-way`, 10, 10);
  assert.equal(await says(session, way), "turn 0.0\u00b0, purity 1.00\u00d7");
});

inOneBrowser("a second finger on the wheel neither moves a handle nor lets go of the first one's", async (session) => {
  const { page } = session;
  await ready(session);
  await unfold(session, "scan", "bearings");
  await settled(session);
  const said = await page.$eval(`${WHEEL} .pad`, async (pad) => {
    pad.setPointerCapture = () => {};
    const box = pad.getBoundingClientRect();
    const [way, other] = [pad.querySelectorAll(".wheel-way")[0], pad.querySelectorAll(".wheel-way")[1]];
    const send = (type, pointerId, [x, y]) => pad.dispatchEvent(new PointerEvent(type, { pointerId, isPrimary: pointerId === 11, button: 0, clientX: x, clientY: y, bubbles: true, cancelable: true }));
    const middle = (el) => {
      const { left, top, width, height } = el.getBoundingClientRect();
      return [left + width / 2, top + height / 2];
    };
    const next = () => new Promise((done) => setTimeout(done, 50));
    const read = () => [way, other].map((el) => el.getAttribute("aria-valuetext"));
    const [first, second] = [middle(way), middle(other)];
    const before = read();
    send("pointerdown", 11, first);
    send("pointerdown", 12, second);
    send("pointermove", 12, [box.left + box.width / 2, box.top + box.height / 2]);
    await next();
    const still = read();
    send("pointerup", 12, second);
    send("pointermove", 11, [first[0] + 12, first[1] + 12]);
    await next();
    const moved = read();
    send("pointerup", 11, first);
    send("pointermove", 11, second);
    await next();
    return { before, still, moved, after: read() };
  });
  assert.deepEqual(said.still, said.before);
  assert.notEqual(said.moved[0], said.before[0]);
  assert.equal(said.moved[1], said.before[1]);
  assert.deepEqual(said.after, said.moved);
});

inOneBrowser(
  "on a phone the wheel stands with one number, and a finger has 44 px round a handle",
  async (session) => {
    const { page } = session;
    await ready(session);
    await unfold(session, "scan");
    const name = () => page.$eval('[data-stage="scan"] .single-name', (it) => it.textContent);
    for (let i = 0; i < 60 && !/^Hue bearings: turn 1/.test(await name()); i += 1) await page.click('[data-stage="scan"] [aria-label="Next control"]');
    assert.equal(await name(), "Hue bearings: turn 1");
    assert.deepEqual(await page.$$eval(`${WHEEL} .row`, (all) => all.filter((it) => it.checkVisibility()).map((it) => it.dataset.control)), ["turn_1"]);
    // A finger that comes down 22 px beside a handle has it.
    const [x, y] = await handleAt(session, "Bearing 1: turn and purity");
    await page.mouse.move(x - 15, y - 15);
    await page.mouse.down();
    await page.mouse.move(x - 15, y - 27, { steps: 4 });
    await page.mouse.up();
    await settled(session);
    assert.match(await says(session, "Bearing 1: turn and purity"), /^turn \+[1-9]/);
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { viewport: PHONE },
);
