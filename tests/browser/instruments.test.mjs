// The instruments: each stage in its own unit, one pixel on the gates, targets on the vectorscope.
import assert from "node:assert/strict";
import { PHONE, inEachBrowser } from "./harness.mjs";
import { allOf, ready, settled, shownPixels, textOf } from "./desk.mjs";
import { allKept } from "./kept.mjs";
import { encode16 } from "./png.mjs";

/** LogC3's mid-grey at EI 800 is code 400 of 1023 (ARRI, ALEXA Log C Curve, 2017). */
const GREY = encode16(96, 64, () => [400 / 1023, 400 / 1023, 400 / 1023]);

async function openGrey(session) {
  await ready(session);
  await session.drop("body", { name: "grey_logc3.png", bytes: GREY });
  await session.page.waitForSelector('.pane[aria-label="Picture grey_logc3.png"]');
  await settled(session);
  await session.page.keyboard.press("i");
  await session.page.waitForSelector('.desk[data-panel="instruments"]');
}

inEachBrowser("instruments read each stage in its own unit, and a pixel stands on the gates", async (session) => {
  const { page } = session;
  await openGrey(session);
  await page.waitForFunction(() => / %\./.test(document.querySelector(".scope-reach").textContent));
  assert.deepEqual(await allOf(page, ".axis-up span"), ["0", "25", "50", "75", "100"]);
  assert.equal(await page.$$eval(".scope-marks rect", (all) => all.length), 6);

  await page.select(".scope-stage", "intake");
  await page.waitForFunction(() => document.querySelector(".scope-reach").textContent.includes("stops"));
  assert.equal(await textOf(page, ".scope-reach"), "0.0 to 0.0 stops. Nothing at either end.");
  assert.deepEqual(await allOf(page, ".axis-across span"), ["\u22128", "\u22124", "grey", "+4", "+8"]);

  await page.select(".scope-stage", "scan");
  await page.waitForFunction(() => document.querySelector(".scope-reach").textContent.includes("code of 1023"));

  const pane = await (await page.$(".pane")).boundingBox();
  await page.mouse.move(pane.x + pane.width * 0.7, pane.y + pane.height * 0.5);
  await page.waitForSelector(".trace:not([hidden])");
  assert.deepEqual((await allOf(page, ".trace tr:first-child td")), ["0.0", "0.0", "0.0"]);
  assert.equal(await textOf(page, '.gate[data-stage="intake"] .gate-values'), "0.0 0.0 0.0");
  // The picture has grain; the pixel is read without.
  const { pixels } = await shownPixels(session, "after");
  const mean = pixels.filter((_, i) => i % 4 === 1).reduce((sum, code) => sum + code, 0) / (pixels.length / 4);
  const [, green] = (await allOf(page, ".trace tr:last-child td")).map(Number);
  assert.ok(Math.abs(green - (mean / 255) * 100) < 3, `${green} % for a mean of ${mean} of 255`);

  // The other side of the wipe: all of it is one grey there, as the canvas has it, in percent.
  const grey = (await shownPixels(session, "before")).pixels[1];
  await page.select(".scope-stage", "before");
  await page.waitForFunction(() => document.querySelector(".scope-reach").textContent.startsWith("Before"));
  const [, low, high] = /^Before the wipe, as the camera saw it: (\d+) to (\d+) %/.exec(await textOf(page, ".scope-reach"));
  assert.ok(low === high && Math.abs(Number(low) - grey / 2.55) <= 0.5, `${low} to ${high} % for ${grey} of 255`);
  assert.match(await page.$eval(".scope-of-colours canvas", (it) => it.getAttribute("aria-label")), /^Before the wipe, as the camera saw it: Hue/);
  assert.deepEqual(await session.accessibilityFaults(), []);
  // It is kept with the session, and says so only as long as something else stands there.
  await allKept(page);
  await page.reload();
  await ready(session);
  await page.keyboard.press("i");
  await page.waitForFunction(() => document.querySelector(".scope-reach").textContent.startsWith("Before"));
  await page.select(".side-label-before", "screen");
  await page.waitForFunction(() => /^\d+ to/.test(document.querySelector(".scope-reach").textContent));
  assert.equal(await page.$eval(".scope-stage", (it) => it.value), "scan");
  assert.equal(await page.$eval('.scope-stage [value="before"]', (it) => it.hidden), true);
});

inEachBrowser(
  "on a phone instruments lie in a row, and axe finds nothing",
  async (session) => {
    const { page } = session;
    await openGrey(session);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${wide} px wider than the window`);
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { viewport: PHONE },
);
