// Setting a number as one works: finer, by wheel, as a sum, and back again in one step.
import assert from "node:assert/strict";
import { setTimeout as sleep } from "node:timers/promises";
import { control, ready, settled, unfold } from "./desk.mjs";
import { inEachBrowser, inOneBrowser } from "./harness.mjs";

const SLOPE = ["scan", "contrast", "Slope"];
const SHARED = { group: "controls" };

/** The slope's elements, and what its field says. */
async function open(session) {
  await ready(session);
  await unfold(session, "scan", "contrast");
  const { slider, number } = await control(session, ...SLOPE);
  const value = async () => Number(await number.evaluate((it) => it.value));
  const { x, y, width, height } = await slider.boundingBox();
  const at = (share) => [x + width * share, y + height / 2];
  return { slider, number, value, at, width };
}

/** How many entries the history has. */
const entries = (session) => session.page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)[1]));

inOneBrowser("a double click puts a value back as one entry of the history", async (session) => {
  const { slider, value, at } = await open(session);
  await slider.focus();
  await session.page.keyboard.press("Delete");
  await settled(session);
  const initial = await value();
  await session.page.mouse.click(...at(0.9));
  await settled(session);
  const clicked = await value();
  assert.notEqual(clicked, initial);
  const before = await entries(session);
  // The first of the two clicks lands elsewhere and moves the value.
  await session.page.mouse.click(...at(0.2), { count: 2 });
  await settled(session);
  assert.equal(await value(), initial);
  assert.equal(await entries(session), before + 1);
  await session.page.click('[aria-label="Undo"]');
  await settled(session);
  assert.equal(await value(), clicked);
}, SHARED);

inOneBrowser("with Shift a drag and the arrow keys are ten times finer", async (session) => {
  const { slider, value, at } = await open(session);
  const dragged = async (fine) => {
    await session.page.mouse.move(...at(0.4));
    await session.page.mouse.down();
    await session.page.mouse.move(...at(0.41));
    const from = await value();
    if (fine) await session.page.keyboard.down("Shift");
    for (const share of [0.45, 0.5, 0.55, 0.6, 0.65]) await session.page.mouse.move(...at(share));
    if (fine) await session.page.keyboard.up("Shift");
    await session.page.mouse.up();
    await settled(session);
    return (await value()) - from;
  };
  const [coarse, fine] = [await dragged(false), await dragged(true)];
  assert.ok(coarse > 0.3, `${coarse}`);
  // The slider's scale bends, so a tenth is not exact.
  assert.ok(fine > 0.05 * coarse && fine < 0.15 * coarse, `${fine} of ${coarse}`);

  await slider.focus();
  const start = await value();
  await session.page.keyboard.press("ArrowRight");
  await settled(session);
  const step = (await value()) - start;
  await session.page.keyboard.down("Shift");
  await session.page.keyboard.press("ArrowRight");
  await session.page.keyboard.up("Shift");
  await settled(session);
  const small = (await value()) - start - step;
  assert.ok(Math.abs(small - step / 10) < 1e-9, `${small} after ${step}`);
}, SHARED);

inEachBrowser("the wheel turns a slider that has the focus, and no other", async (session) => {
  const { slider, value, at } = await open(session);
  const initial = await value();
  await session.page.mouse.move(...at(0.5));
  await session.page.mouse.wheel({ deltaY: -300 });
  await sleep(300);
  assert.equal(await value(), initial);
  const before = await entries(session);
  await slider.focus();
  const box = await slider.boundingBox(); // the wheel may have scrolled the panel
  await session.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  for (let i = 0; i < 3; i += 1) await session.page.mouse.wheel({ deltaY: -100 });
  await session.page.waitForFunction((count) => document.querySelector('[aria-label="Undo"]')?.title.includes(`${count} kept`), {}, before + 1);
  await settled(session);
  assert.ok((await value()) > initial, `${await value()} after ${initial}`);
}, SHARED);

inEachBrowser("what is typed replaces the number, may be a sum, and Escape drops it", async (session) => {
  const { number, value } = await open(session);
  const { keyboard } = session.page;
  await number.click();
  await keyboard.type("1.5");
  await keyboard.press("Enter");
  await settled(session);
  assert.equal(await value(), 1.5);
  // The next number needs no deleting.
  await keyboard.type("1.9");
  await keyboard.press("Enter");
  await settled(session);
  assert.equal(await value(), 1.9);
  for (const [typed, expected] of [["2*1.2", 2.4], ["/2", 1.2], ["1+1/3", 1.3333]]) {
    await keyboard.type(typed);
    await keyboard.press("Enter");
    await settled(session);
    assert.equal(await value(), expected, typed);
  }
  await keyboard.type("3");
  await keyboard.press("Escape");
  assert.equal(await value(), 1.3333);
  // What can't be read changes nothing.
  await keyboard.type("two");
  await keyboard.press("Enter");
  assert.equal(await value(), 1.3333);
}, SHARED);

inOneBrowser("what is typed is not lost when something else changes", async (session) => {
  const { number } = await open(session);
  await number.click();
  await session.page.keyboard.type("2.2");
  const before = await entries(session);
  await session.page.evaluate(() => document.querySelector('[data-stage="lens"] .switch input').click());
  await settled(session);
  assert.equal(await entries(session), before + 1);
  assert.equal(await number.evaluate((it) => it.value), "2.2");
}, SHARED);

inOneBrowser("small numbers are shown whole, and only what was set is marked", async (session) => {
  await ready(session);
  await unfold(session, "scan", "contrast");
  const { slider, number } = await control(session, ...SLOPE);
  const marked = (element) => element.evaluate((it) => it.hasAttribute("data-moved"));
  // Its default is not neutral, and yet nobody has set it.
  await session.page.evaluate(() => document.querySelector('[data-stage="scan"] [data-step="contrast"] .reset:not([disabled])')?.click());
  await slider.focus();
  await session.page.keyboard.press("Delete");
  await settled(session);
  assert.equal(await marked(slider), false);
  await session.page.keyboard.press("ArrowRight");
  await settled(session);
  assert.equal(await marked(slider), true);
  // Every digit of the longest numbers fits into its field.
  const cut = await number.evaluate((it) => {
    const width = (text) => ((it.value = text), it.scrollWidth - it.clientWidth);
    return ["+0.008", "\u22120.025", "12000"].map(width);
  });
  assert.deepEqual(cut, [0, 0, 0]);
}, SHARED);
