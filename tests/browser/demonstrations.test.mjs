// Demonstrations: pictures beside each other, made from a copy of the look.
import assert from "node:assert/strict";
import { PHONE, inOneBrowser } from "./harness.mjs";
import { notices, ready, savedLook, unfold } from "./desk.mjs";

const title = (page, words) => page.waitForFunction((it) => document.querySelector(".showing .lesson-title")?.textContent === it, {}, words);
const drawn = (page, count) => page.waitForFunction((many) => [...document.querySelectorAll(".showing-sides canvas[data-drawn]")].length === many, {}, count);
/** Of each side: the code of 0 ... 255 that a share of its greens lies below. */
const levels = (page, share) =>
  page.$$eval(
    ".showing-sides canvas",
    (all, part) =>
      all.map((it) => {
        const { data } = it.getContext("2d").getImageData(0, 0, it.width, it.height);
        const greens = Array.from({ length: data.length / 4 }, (_, i) => data[4 * i + 1]).sort((a, b) => a - b);
        return greens[Math.floor(part * (greens.length - 1))];
      }),
    share,
  );

inOneBrowser(
  "demonstrations open from a link, show what they say, and change nothing of one's own",
  async (session) => {
    const { page } = session;
    await ready(session);
    const look = await savedLook(session);
    await page.evaluate(() => (location.hash = "#demonstration=1"));
    await page.waitForSelector(".showing[open]");
    await title(page, "Three stops wrong");
    await drawn(page, 3);
    assert.deepEqual(await session.accessibilityFaults(), []);
    // Printed back, the middle stands where it stood, whatever the exposure: within half a stop's worth of code.
    const [under, right, over] = await levels(page, 0.5);
    assert.ok(Math.abs(under - right) < 25 && Math.abs(over - right) < 25, `${under} ${right} ${over}`);
    // An eighth of the light leaves the blacks in fog.
    const darks = await levels(page, 0.002);
    assert.ok(darks[0] > darks[1], `${darks}`);

    await page.keyboard.press("PageDown");
    await title(page, "Early or late balance");
    await page.evaluate(() => (location.hash = "#demonstration=6"));
    await title(page, "Straight or printed");
    await drawn(page, 2);
    const [straight, printed] = await levels(page, 0.002);
    assert.ok(printed < straight, `a print's blacks are deeper: ${printed}, ${straight}`);

    // What is added afterwards glows about whites of any brightness; noise is as strong in whites, which the film keeps clean.
    await page.evaluate(() => (location.hash = "#demonstration=9"));
    await title(page, "Halation in the film or afterwards");
    await drawn(page, 3);
    const [, without, glowing] = await levels(page, 0.7);
    assert.ok(glowing > without, `${glowing} after ${without}`);
    await page.evaluate(() => (location.hash = "#demonstration=99"));
    await title(page, "Grain in the film or afterwards");
    await drawn(page, 3);
    // How far greens lie from those without, of mid-tones and of whites.
    const spreads = await page.$$eval(".showing-sides canvas", (all) => {
      const [film, plain, after] = all.map((it) => it.getContext("2d").getImageData(0, 0, it.width, it.height).data.filter((_, i) => i % 4 === 1));
      return [film, after].map((side) =>
        [[110, 150], [220, 256]].map(([low, high]) => {
          const apart = [...plain.keys()].filter((i) => plain[i] >= low && plain[i] < high).map((i) => side[i] - plain[i]);
          return Math.sqrt(apart.reduce((sum, it) => sum + it * it, 0) / apart.length);
        }),
      );
    });
    const [[filmMid, filmWhite], [afterMid, afterWhite]] = spreads;
    assert.ok(filmWhite < 0.7 * filmMid && Math.abs(afterWhite / afterMid - 1) < 0.1 && Math.abs(afterMid / filmMid - 1) < 0.25, `${spreads}`);
    assert.deepEqual(await session.accessibilityFaults(), []);

    await page.evaluate(() => (location.hash = "#demonstration=8"));
    await title(page, "What a table can\u2019t carry");
    await drawn(page, 2);
    const middles = await levels(page, 0.5);
    assert.ok(Math.abs(middles[0] - middles[1]) <= 4, `tone is the table's: ${middles}`);
    assert.equal(await page.$eval(".showing-part", (it) => it.checkVisibility()), true);
    assert.deepEqual(await session.accessibilityFaults(), []);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => !document.querySelector(".showing[open]"));
    // A look may have been written there meanwhile, and stays.
    await page.waitForFunction(() => !location.hash.includes("demonstration"));
    assert.deepEqual(await savedLook(session), look);
  },
);

inOneBrowser(
  "a demonstration of the address stays there beside the look that is written, and is back after a reload",
  async (session) => {
    const { page } = session;
    await ready(session);
    await page.waitForFunction(() => /^#look=[\w-]+&demonstration=2$/.test(location.hash));
    await page.reload();
    await ready(session);
    await title(page, "Early or late balance");
    await drawn(page, 3);
    assert.ok(!(await notices(session)).some((it) => /link/.test(it)), `${await notices(session)}`);
  },
  { path: "#demonstration=2" },
);

inOneBrowser("steps that are off in one's own look are shown all the same", async (session) => {
  const { page } = session;
  await ready(session);
  for (const [stage, step] of [["lens", "exposure"], ["scan", "points"]]) {
    await unfold(session, stage, step);
    await page.$eval(`[data-stage="${stage}"] [data-step="${step}"] .switch input`, (it) => it.checked && it.click());
  }
  await page.evaluate(() => (location.hash = "#demonstration=1"));
  await title(page, "Three stops wrong");
  await drawn(page, 3);
  const darks = await levels(page, 0.002);
  assert.ok(darks[0] > darks[1], `an eighth of the light leaves the blacks in fog: ${darks}`);
});

inOneBrowser("a look that has nothing to show says so", async (session) => {
  const { page } = session;
  await ready(session);
  const texture = [["lens", "diffusion"], ["negative", "halation"], ["negative", "softness"], ["negative", "edge"], ["negative", "grain"]];
  for (const [stage, step] of texture) {
    await unfold(session, stage, step);
    await page.$eval(`[data-stage="${stage}"] [data-step="${step}"] .switch input`, (it) => it.checked && it.click());
  }
  const words = () => page.$eval(".showing [role=status]", (it) => it.textContent);
  await page.evaluate(() => (location.hash = "#demonstration=8"));
  await title(page, "What a table can\u2019t carry");
  await drawn(page, 2);
  await page.waitForFunction(() => /comes out alike/.test(document.querySelector(".showing [role=status]")?.textContent));
  await page.evaluate(() => (location.hash = "#demonstration=6"));
  await title(page, "Straight or printed");
  await drawn(page, 2);
  assert.equal(await words(), "");
});

inOneBrowser(
  "on a phone a demonstration's pictures stand below each other, and nothing is cut at the side",
  async (session) => {
    const { page } = session;
    await ready(session);
    await page.evaluate(() => (location.hash = "#demonstration=2"));
    await page.waitForSelector(".showing[open]");
    await drawn(page, 3);
    const wide = await page.$eval(".showing", (it) => [it.scrollWidth, it.querySelector(".lesson-foot").scrollWidth]);
    assert.ok(wide.every((it) => it <= PHONE.width), `${wide}`);
    const tops = await page.$$eval(".showing-sides figure", (all) => all.map((it) => it.getBoundingClientRect().top));
    assert.ok(tops[0] < tops[1] && tops[1] < tops[2]);
  },
  { viewport: PHONE },
);
