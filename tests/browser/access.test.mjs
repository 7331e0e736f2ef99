// The page for everybody: WCAG 2.2 by axe-core, by keyboard alone, and on a narrow screen.
import assert from "node:assert/strict";
import { openPart, ready, settled, unfold } from "./desk.mjs";
import { PHONE, inEachBrowser } from "./harness.mjs";

const STAGES = ["intake", "lens", "negative", "scan", "print", "screen"];

async function unfoldAll(session, stage) {
  await unfold(session, stage);
  await session.page.$$eval(`[data-stage="${stage}"] .step-fold[aria-expanded="false"]`, (all) => all.forEach((it) => it.click()));
}

inEachBrowser("axe finds nothing, whichever stage is open", async (session) => {
  await ready(session);
  for (const stage of STAGES) {
    await unfoldAll(session, stage);
    await settled(session);
    assert.deepEqual(await session.accessibilityFaults(), [], stage);
  }
  await session.page.click(".pill-lit");
  await session.page.waitForSelector("dialog[open]");
  assert.deepEqual(await session.accessibilityFaults(), [], "the save dialog");
  for (const title of ["A table", "A hand-over pack", "Plates", "The look"]) {
    await openPart(session, title);
    await session.page.$$eval("dialog .checks", (all) => all.forEach((it) => (it.open = it.checkVisibility())));
    if (title === "A hand-over pack") await session.page.waitForSelector(".pack-health li");
    assert.deepEqual(await session.accessibilityFaults(), [], title);
  }
});

inEachBrowser(
  "on a phone the picture stays in view above an opened stage, and nothing is wider than the screen",
  async (session) => {
    await ready(session);
    for (const width of [390, 320]) {
      await session.page.setViewport({ ...PHONE, width });
      for (const stage of STAGES) {
        await unfoldAll(session, stage);
        await settled(session);
        const { wide, picture, sheet } = await session.page.evaluate((id) => ({
          wide: document.documentElement.scrollWidth,
          picture: document.querySelector(".opening").getBoundingClientRect().toJSON(),
          sheet: document.querySelector(`[data-stage="${id}"] .stage-body`).getBoundingClientRect().toJSON(),
        }), stage);
        assert.ok(wide <= width, `${stage}: ${wide} of ${width} px`);
        assert.ok(picture.height > 100 && picture.bottom <= sheet.top + 1, `${stage} at ${width} px: picture ends at ${picture.bottom}, sheet begins at ${sheet.top}`);
        assert.ok(sheet.left >= 0 && sheet.right <= width, stage);
      }
    }
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { viewport: PHONE },
);

inEachBrowser(
  "whatever is pressed is at least 24 px wide and high",
  async (session) => {
    await ready(session);
    await unfoldAll(session, "scan");
    const small = await session.page.$$eval("button, input, select", (all) =>
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
