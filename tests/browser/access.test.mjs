// The page for everybody: WCAG 2.2 by axe-core, by keyboard alone, and on a narrow screen.
import assert from "node:assert/strict";
import { act, openPart, ready, settled, unfold } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";

const STAGES = ["intake", "lens", "negative", "scan", "print", "screen"];

async function unfoldAll(session, stage) {
  await unfold(session, stage);
  await session.page.$$eval(`[data-stage="${stage}"] .step-fold[aria-expanded="false"]`, (all) => all.forEach((it) => it.click()));
  await session.page.$$eval(`[data-stage="${stage}"] .wheel-fold[aria-expanded="false"]`, (all) => all.forEach((it) => it.click()));
}

inOneBrowser("axe finds nothing, whichever stage is open", async (session) => {
  await ready(session);
  for (const stage of STAGES) {
    await unfoldAll(session, stage);
    await settled(session);
    assert.deepEqual(await session.accessibilityFaults(), [], stage);
  }
  for (const [words, kind] of [["Help", "help"], ["Start from a look", "start"]]) {
    await act(session, words);
    await session.page.waitForSelector(`dialog.${kind}[open]`);
    if (kind === "help") await session.page.waitForFunction(() => /^Lookwright \d+\.\d+\.\d+, film model \d+/.test(document.querySelector(".help h3 + .quiet")?.textContent));
    assert.deepEqual(await session.accessibilityFaults(), [], words);
    await session.page.keyboard.press("Escape");
    await session.page.waitForSelector(`dialog.${kind}:not([open])`);
  }
  await session.page.click(".pill-lit");
  await session.page.waitForSelector("dialog[open]");
  assert.deepEqual(await session.accessibilityFaults(), [], "the save dialog");
  for (const title of ["Table", "Hand-over pack", "Plates", "Look"]) {
    await openPart(session, title);
    await session.page.$$eval("dialog .checks", (all) => all.forEach((it) => (it.open = it.checkVisibility())));
    if (title === "Hand-over pack") await session.page.waitForSelector(".pack-health li");
    assert.deepEqual(await session.accessibilityFaults(), [], title);
  }
});

/** Sizes of window, what the picture takes of each at least, and how its sides stand, where that does not turn on a few pixels. */
const SIZES = [
  [320, 568, 0.5, "one above the other"],
  [390, 844, 0.5, "one above the other"],
  [844, 390, 0.55, "a wipe"],
  [768, 1024, 0.5, "a wipe"],
  [1024, 768, 0.6, "a wipe"],
  [1440, 900, 0.6, "a wipe"],
  [1920, 1080, 0.6, "a wipe"],
  [2560, 1440, 0.6, "a wipe"],
];

inEachBrowser("at every size the picture has its share, and nothing is wider than the window or lies over it", async (session) => {
  const { page } = session;
  for (const [width, height, share, how] of SIZES) {
    await page.setViewport({ width, height, deviceScaleFactor: 1 });
    await ready(session);
    await settled(session);
    const at = `${width} x ${height}`;
    const found = await page.evaluate(() => {
      const box = (it) => it.getBoundingClientRect();
      const sides = [...document.querySelectorAll(".side")].map(box);
      const stacked = document.querySelector(".opening").hasAttribute("data-stacked");
      const area = (stacked ? sides : sides.slice(0, 1)).reduce((sum, it) => sum + it.width * it.height, 0);
      const over = [...document.querySelectorAll("header *, nav *, .panel *, .dock *, .tools *")].filter((it) => it.checkVisibility() && box(it).width > 1).map((it) => [it, box(it)]);
      const covers = over.filter(([, it]) => sides.slice(0, stacked ? 2 : 1).some((side) => it.left < side.right - 8 && it.right > side.left + 8 && it.top < side.bottom - 8 && it.bottom > side.top + 8));
      return { share: area / (innerWidth * innerHeight), how: stacked ? "one above the other" : "a wipe", wide: document.documentElement.scrollWidth, covers: covers.map(([it]) => `${it.className}`), gates: [...document.querySelectorAll(".gate .thumb")].filter((it) => box(it).right <= innerWidth && box(it).bottom <= innerHeight).length };
    });
    assert.ok(found.share >= share - 0.0005, `${at}: the picture takes ${found.share.toFixed(3)}`);
    if (how) assert.equal(found.how, how, at);
    assert.ok(found.wide <= width, `${at}: ${found.wide} px wide`);
    assert.deepEqual(found.covers, [], at);
    assert.equal(found.gates, 6, `${at}: stages in view`);
  }
});

inOneBrowser(
  "on a phone every stage is set one control at a time or as a list, and axe finds nothing",
  async (session) => {
    await ready(session);
    const { page } = session;
    for (const stage of STAGES) {
      await unfold(session, stage);
      await settled(session);
      const shown = await page.$$eval(`[data-stage="${stage}"] .row`, (all) => all.filter((it) => it.checkVisibility()).length);
      assert.equal(shown, 1, stage);
    }
    await unfold(session, "negative");
    const name = () => page.$eval('[data-stage="negative"] .single-name', (it) => it.textContent);
    const first = await name();
    await page.click('[data-stage="negative"] [aria-label="Next control"]');
    assert.notEqual(await name(), first);
    assert.deepEqual(await session.accessibilityFaults(), []);
    await page.setViewport({ ...PHONE, width: 844, height: 390 });
    await settled(session);
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { viewport: PHONE },
);

inEachBrowser(
  "whatever is pressed is at least 24 px wide and high",
  async (session) => {
    await ready(session);
    await unfoldAll(session, "scan");
    const small = await session.page.$$eval('button, input, select, [role="slider"]', (all) =>
      all.flatMap((it) => {
        const { width, height } = it.getBoundingClientRect();
        const shown = it.checkVisibility({ visibilityProperty: true, opacityProperty: false });
        return shown && (width < 24 || height < 24) ? [`${it.className} ${it.getAttribute("aria-label")} ${width} x ${height}`] : [];
      }),
    );
    assert.deepEqual(small, []);
  },
);

inEachBrowser("a stage is opened and a curve is bent by keyboard alone", async (session) => {
  await ready(session);
  const { page } = session;
  const reach = async (wanted) => {
    for (let i = 0; i < 200; i += 1) {
      await page.keyboard.press("Tab");
      const here = await page.evaluate(() => `${document.activeElement.className} ${document.activeElement.getAttribute("aria-label") ?? ""} ${document.activeElement.textContent.trim()}`);
      if (wanted.test(here)) return;
    }
    assert.fail(`Tab does not reach ${wanted}`);
  };
  await page.evaluate(() => document.querySelector('[data-stage="scan"] .stage-head[aria-expanded="true"]')?.click());
  await reach(/stage-head.*Scan/s);
  await page.keyboard.press("Enter");
  // Nothing has been set in it yet.
  await reach(/as-it-came/);
  await page.keyboard.press("Enter");
  await reach(/step-fold.*Curves/s);
  await page.keyboard.press("Enter");
  await reach(/Add point/);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.activeElement.className === "curve-point");
  for (let i = 0; i < 10; i += 1) await page.keyboard.press("ArrowUp");
  await settled(session);
  const words = await page.evaluate(() => document.activeElement.getAttribute("aria-label"));
  // Codes are of 10 bits: 0.5 x 1023, and ten steps of 0.005 above it.
  assert.match(words, /^Point 2 of 3: in code 512, .+; out code 563, screen \d+ of 255$/);
  await page.keyboard.press("Delete");
  await settled(session);
  assert.equal(await page.$$eval(".curve-point", (all) => all.length), 2);
});
