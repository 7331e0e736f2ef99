// The first minute, as somebody new would spend it: a photo, a look, two changes, the wipe, a file. Counted.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { clickButton, ready, settled } from "./desk.mjs";
import { DESKTOP, PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";

const PHOTO = { name: "cup.jpg", bytes: await readFile(new URL("../../demo-images/harbour-cup.jpg", import.meta.url)) };

/**
 * How much has moved by itself since the page was opened: cumulative layout shift, the largest sum over a window of
 * at most 5 s without a pause of 1 s (Web Vitals); 0 where shifts are not counted.
 */
const shifted = (page) =>
  page.evaluate(() => {
    const observer = new PerformanceObserver(() => {});
    observer.observe({ type: "layout-shift", buffered: true });
    let [most, sum, first, last] = [0, 0, -Infinity, -Infinity];
    for (const { hadRecentInput, startTime, value } of observer.takeRecords()) {
      if (hadRecentInput) continue;
      if (startTime - last > 1000 || startTime - first > 5000) [sum, first] = [0, startTime];
      [sum, last] = [sum + value, startTime];
      most = Math.max(most, sum);
    }
    return most;
  });

/** A slider that is in view, counted from the top, dragged a little towards its middle; false if there is none. */
async function change(session, which, by) {
  const sliders = await session.page.$$('.panel .slider:not(:disabled)');
  const seen = [];
  for (const slider of sliders) if (await slider.isIntersectingViewport()) seen.push(slider);
  const box = await seen[which]?.boundingBox();
  if (!box) return false;
  const value = await seen[which].evaluate((it) => it.valueAsNumber / it.max);
  const [x, y] = [box.x + 7 + (box.width - 14) * value, box.y + box.height / 2];
  await session.page.mouse.move(x, y);
  await session.page.mouse.down();
  await session.page.mouse.move(x + (value > 0.5 ? -by : by), y, { steps: 4 });
  await session.page.mouse.up();
  await settled(session);
  return true;
}

for (const [where, viewport, most] of [["a desk", DESKTOP, 8], ["a phone", PHONE, 10]]) {
  // Firefox counts no shifts: there one of the two is enough.
  (where === "a phone" ? inEachBrowser : inOneBrowser)(
    `the first minute on ${where} takes at most ${most} actions, and little moves by itself`,
    async (session) => {
      const { page } = session;
      await ready(session);
      let actions = 0;
      const act = async (what) => {
        actions += 1;
        return what();
      };
      await act(() => session.drop("body", PHOTO));
      await page.waitForSelector('.pane[aria-label="Picture cup.jpg"]');
      await settled(session);
      await act(() => page.click('.bar-acts [data-action="wall"]'));
      const before = await page.$eval(".look-name", (it) => it.value);
      await page.waitForSelector(".look-cell:nth-of-type(3)");
      await act(() => page.click(".look-cell:nth-of-type(3)"));
      await page.waitForFunction((name) => document.querySelector(".look-name").value !== name && !document.querySelector("dialog[open]"), {}, before);
      await settled(session);
      const entries = () => page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)[1]));
      const start = await entries();
      assert.ok(await act(() => change(session, 0, 24)), "no slider is in view");
      if (where === "a phone") await act(() => page.click('.stage:not([hidden]) [aria-label="Next control"]'));
      assert.ok(await act(() => change(session, where === "a phone" ? 0 : 1, 18)), "no second slider is in view");
      assert.equal(await entries(), start + 2);
      if (await page.$(".opening[data-stacked]")) await act(() => page.mouse.click(190, 300, { delay: 500 }));
      else await act(() => session.drag(".wipe", 60, 0));
      await act(() => page.click(".pill-lit"));
      await act(() => clickButton(session, "dialog[open]", "Save picture"));
      const file = await session.downloads.next(/\.(jpg|png)$/);
      assert.ok(file.bytes.length > 20_000);
      assert.ok(actions <= most, `${actions} actions`);
      const moved = await shifted(page);
      assert.ok(moved < 0.05, `layout shift ${moved}`);
    },
    { viewport },
  );
}

inEachBrowser("the first minute by keyboard alone", async (session) => {
  const { page } = session;
  await ready(session);
  /** Goes on with Tab until what has the focus is meant. */
  const reach = async (wanted) => {
    for (let i = 0; i < 120; i += 1) {
      await page.keyboard.press("Tab");
      const here = await page.evaluate(() => `${document.activeElement.className} ${document.activeElement.getAttribute("aria-label") ?? ""} ${document.activeElement.textContent.trim()}`);
      if (wanted.test(here)) return;
    }
    assert.fail(`Tab does not reach ${wanted}`);
  };
  // The system's own dialog takes over here.
  await page.$eval("#picker", (it) => it.addEventListener("click", (event) => (event.preventDefault(), (globalThis.asked = true)), { once: true }));
  await page.keyboard.press("o");
  assert.ok(await page.evaluate(() => globalThis.asked));
  await session.choose("#picker", fileURLToPath(new URL("../../demo-images/harbour-cup.jpg", import.meta.url)));
  await page.waitForSelector('.pane[aria-label="Picture harbour-cup.jpg"]');
  await settled(session);
  const before = await page.$eval(".look-name", (it) => it.value);
  await page.keyboard.press("w");
  await page.waitForSelector(".look-cell:nth-of-type(3)");
  // Not the frame around the cells, which some browsers give the focus to scroll it.
  await reach(/look-cell\b/);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Enter");
  await page.waitForFunction((name) => document.querySelector(".look-name").value !== name && !document.querySelector("dialog[open]"), {}, before);
  const entries = () => page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)[1]));
  const start = await entries();
  for (let changes = 0; changes < 2; changes += 1) {
    await reach(/^slider/);
    await page.keyboard.press("ArrowRight");
    await settled(session);
  }
  assert.equal(await entries(), start + 2);
  const wipe = () => page.$eval(".wipe", (it) => it.getAttribute("aria-valuenow"));
  const stood = await wipe();
  await reach(/^wipe/);
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await wipe(), stood);
  await page.keyboard.press("s");
  await page.waitForSelector("dialog.save[open]");
  await reach(/Save picture/);
  await page.keyboard.press("Enter");
  assert.ok((await session.downloads.next(/\.jpg$/)).bytes.length > 20_000);
  // Without a window, Firefox makes no click of Enter once a file has been chosen.
}, { only: "chromium" });
