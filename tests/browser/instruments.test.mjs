// The instruments: each stage in its own unit, one pixel on the gates, targets on the vectorscope.
import assert from "node:assert/strict";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { act, allOf, clickButton, ready, settled, shownPixels, textOf, unfold } from "./desk.mjs";
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
  await page.waitForFunction(() => / %\./.test(document.querySelector(".scope-reach")?.textContent));
  assert.deepEqual(await allOf(page, ".axis-up span"), ["0", "25", "50", "75", "100"]);
  assert.equal(await page.$$eval(".scope-marks rect", (all) => all.length), 6);

  await page.select(".scope-stage", "intake");
  await page.waitForFunction(() => document.querySelector(".scope-reach")?.textContent.includes("stops"));
  assert.equal(await textOf(page, ".scope-reach"), "0.0 to 0.0 stops. Nothing at either end.");
  assert.deepEqual(await allOf(page, ".axis-across span"), ["\u22128", "\u22124", "grey", "+4", "+8"]);

  await page.select(".scope-stage", "scan");
  await page.waitForFunction(() => document.querySelector(".scope-reach")?.textContent.includes("code of 1023"));

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
  await page.waitForFunction(() => document.querySelector(".scope-reach")?.textContent.startsWith("Before"));
  const [, low, high] = /^Before the wipe, as the camera saw it: (\d+) to (\d+) %/.exec(await textOf(page, ".scope-reach"));
  assert.ok(low === high && Math.abs(Number(low) - grey / 2.55) <= 0.5, `${low} to ${high} % for ${grey} of 255`);
  assert.match(await page.$eval(".scope-of-colours canvas", (it) => it.getAttribute("aria-label")), /^Before the wipe, as the camera saw it: Hue/);
  assert.deepEqual(await session.accessibilityFaults(), []);
  // It is kept with the session, and says so only as long as something else stands there.
  await allKept(page);
  await page.reload();
  await ready(session);
  await page.keyboard.press("i");
  await page.waitForFunction(() => document.querySelector(".scope-reach")?.textContent.startsWith("Before"));
  await page.select(".side-label-before", "screen");
  await page.waitForFunction(() => /^\d+ to/.test(document.querySelector(".scope-reach")?.textContent));
  assert.equal(await page.$eval(".scope-stage", (it) => it.value), "scan");
  assert.equal(await page.$eval('.scope-stage [value="before"]', (it) => it.hidden), true);
});

inOneBrowser("chromaticities stand where the primaries of the file put them, and stages without light say why they have none", async (session) => {
  const { page } = session;
  await ready(session);
  // Linear light of Rec.709: its red beside white. As scene light neither screen nor look moves them.
  const patches = encode16(128, 64, (x) => (x < 64 ? [0.5, 0, 0] : [0.5, 0.5, 0.5]));
  await session.drop("body", { name: "patches.png", bytes: patches });
  await page.waitForSelector('.pane[aria-label="Picture patches.png"]');
  await unfold(session, "intake", "source");
  await page.select('[data-stage="intake"] [data-step="source"] select', "srgb-linear");
  await page.keyboard.press("i");
  await page.select(".scope-stage", "intake");
  await clickButton(session, ".scope-of-chromaticity", "show");
  await page.waitForFunction(() => /outside/.test(document.querySelector(".chromaticity-words")?.textContent));
  await settled(session);
  const lit = () =>
    page.$eval(".scope-of-chromaticity canvas", (it) => {
      const { data } = it.getContext("2d").getImageData(0, 0, it.width, it.height);
      const bright = Array.from({ length: data.length / 4 }, (_, i) => i).filter((i) => data[4 * i] > 200);
      return bright.map((i) => [((i % it.width) + 0.5) / it.width, 1 - (Math.floor(i / it.width) + 0.5) / it.height].map((at) => at * 0.64));
    });
  // u' = 4x / (-2x + 12y + 3), v' = 9y / (...) of ITU-R BT.709-6's red (.64, .33) and D65 (CIE 15), within half of 192 bins.
  const expected = [[0.64, 0.33], [0.3127, 0.329]].map(([x, y]) => [4 * x, 9 * y].map((part) => part / (-2 * x + 12 * y + 3)));
  const found = await lit();
  assert.equal(found.length, 2, JSON.stringify(found));
  for (const [u, v] of expected) assert.ok(found.some((at) => Math.abs(at[0] - u) <= 0.32 / 192 + 1e-4 && Math.abs(at[1] - v) <= 0.32 / 192 + 1e-4), `${u} ${v}: ${JSON.stringify(found)}`);
  assert.match(await textOf(page, ".chromaticity-words"), /0\.0 % outside Rec\.709/);
  // The pixel that is pointed at, in both planes.
  const pane = await (await page.$(".opening")).boundingBox();
  await page.mouse.move(pane.x + pane.width * 0.9, pane.y + pane.height * 0.5);
  await page.waitForFunction(() => /^u\u2032 0\.1978 {2}v\u2032 0\.4683\nx 0\.3127 {2}y 0\.3290 {2}\(pixel/.test(document.querySelector(".chromaticity-read")?.textContent));
  // By key from the white.
  await page.focus(".scope-of-chromaticity .scope-square");
  await page.keyboard.press("ArrowRight");
  assert.match(await textOf(page, ".chromaticity-read"), /^u\u2032 0\.2078 {2}v\u2032 0\.4683/);
  assert.deepEqual(await session.accessibilityFaults(), []);
  if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/chromaticity.png` });

  await page.select(".scope-stage", "scan");
  await page.waitForFunction(() => /stand for densities/.test(document.querySelector(".scope-of-chromaticity [role=status]")?.textContent));
  assert.equal(await page.$eval(".chromaticity-body", (it) => it.hidden), true);
});

inEachBrowser(
  "on a phone instruments lie in a row, and axe finds nothing",
  async (session) => {
    const { page } = session;
    await openGrey(session);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${wide} px wider than the window`);
    assert.deepEqual(await session.accessibilityFaults(), []);

    // The loupe follows a finger, never lies under it, and goes as it came.
    await act(session, "Loupe");
    await page.waitForSelector(".glass:not([hidden])");
    const opening = await (await page.$(".opening")).boundingBox();
    for (const [x, y] of [[0.3, 0.8], [0.7, 0.55]]) {
      const finger = { x: opening.x + opening.width * x, y: opening.y + opening.height * y };
      const touch = await page.touchscreen.touchStart(finger.x - 10, finger.y);
      await touch.move(finger.x, finger.y);
      await page.waitForFunction((column) => Math.abs(Number(/x (\d+),/.exec(document.querySelector(".glass-canvas").getAttribute("aria-label"))[1]) - column) <= 1, {}, Math.floor(96 * x));
      await touch.end();
      const glass = await (await page.$(".glass")).boundingBox();
      const under = finger.x > glass.x && finger.x < glass.x + glass.width && finger.y > glass.y && finger.y < glass.y + glass.height;
      assert.ok(!under && glass.x >= 0 && glass.x + glass.width <= PHONE.width, JSON.stringify({ finger, glass }));
    }
    await act(session, "Loupe");
    await page.waitForSelector(".glass[hidden]");
  },
  { viewport: PHONE },
);
