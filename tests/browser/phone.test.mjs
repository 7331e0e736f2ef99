// What only a phone has, or what it has less room for: the camera, sharing, a finger on a slider, long names; and pages zoomed far in.
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { act, clickButton, control, lookwright, notice, openLogFrame, openSave, ready, savedLook, settled, unfold } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";

/** A phone that is touched: Firefox can't be made to be one. */
const TOUCHED = { viewport: { ...PHONE, hasTouch: true, isMobile: true }, only: "chromium" };

inEachBrowser(
  "a photo that the camera takes is opened as any other",
  async (session) => {
    const { page } = session;
    await ready(session);
    const [chooser] = await Promise.all([page.waitForFileChooser(), act(session, "Take a photo")]);
    assert.equal(await page.$eval('input[capture="environment"]', (it) => it.accept), "image/*");
    await chooser.accept([new URL("../../demo-images/window-box.jpg", import.meta.url).pathname]);
    await page.waitForSelector('.pane[aria-label="Picture window-box.jpg"]');
    await settled(session);
  },
  TOUCHED,
);

inEachBrowser(
  "a finger well below a slider moves its value ten times finer",
  async (session) => {
    const { page } = session;
    await ready(session);
    await unfold(session, "scan");
    // One control at a time: on to the slope.
    for (let i = 0; i < 60 && !/slope/i.test(await page.$eval('[data-stage="scan"] .single-name', (it) => it.textContent)); i += 1) await page.click('[data-stage="scan"] [aria-label="Next control"]');
    const { slider, number } = await control(session, "scan", "contrast", "Slope");
    const value = async () => Number(await number.evaluate((it) => it.value));
    const { x, y, width, height } = await slider.boundingBox();
    const dragged = async (away) => {
      const finger = await page.touchscreen.touchStart(x + width * 0.4, y + height / 2);
      // Along the slider first: what goes up or down at once scrolls.
      for (const share of [0.5, 0.55]) await finger.move(x + width * share, y + height / 2);
      await finger.move(x + width * 0.55, y + height / 2 + away);
      const from = await value();
      for (const share of [0.6, 0.65, 0.7, 0.75, 0.8]) await finger.move(x + width * share, y + height / 2 + away);
      await finger.end();
      await settled(session);
      return (await value()) - from;
    };
    const [near, far] = [await dragged(0), await dragged(-120)];
    assert.ok(near > 0.3, `${near}`);
    // The slider's scale bends, so a tenth is not exact.
    assert.ok(far > 0.05 * near && far < 0.15 * near, `${far} of ${near}`);
  },
  TOUCHED,
);

inOneBrowser("a picture is handed to the device's share sheet, and what that won't take is said before it is made", async (session) => {
  const { page } = session;
  await page.evaluateOnNewDocument(() => {
    window.shared = [];
    window.refuses = false;
    Object.defineProperty(navigator, "canShare", { configurable: true, value: ({ files }) => files.every(({ type }) => type === "image/jpeg" || type === "image/png") });
    Object.defineProperty(navigator, "share", {
      configurable: true,
      value: async ({ files }) => {
        if (window.refuses) throw new DOMException("no gesture", "NotAllowedError");
        const bytes = new Uint8Array(await files[0].arrayBuffer());
        window.shared.push({ name: files[0].name, type: files[0].type, bytes: Array.from(bytes) });
      },
    });
  });
  await page.reload();
  await ready(session);
  const input = await openLogFrame(session);
  await openSave(session);
  const format = (id) =>
    page.evaluate((value) => {
      const menu = [...document.querySelectorAll(".save-option")].find((it) => it.firstElementChild.textContent === "Format").querySelector("select");
      menu.value = value;
      menu.dispatchEvent(new Event("change"));
    }, id);
  await format("tiff16");
  await clickButton(session, "dialog.save", "Share \u2026");
  await notice(session, /can\u2019t share files of this format; save it, or share a JPEG/);
  await format("png8");
  await page.evaluate(() => (window.refuses = true));
  await clickButton(session, "dialog.save", "Share \u2026");
  // It took too long for the press to count still.
  await notice(session, /^quay_logc3 - .*\.png is ready\.$/);
  await page.evaluate(() => (window.refuses = false));
  await clickButton(session, ".notices", "Share it");
  await page.waitForFunction(() => window.shared.length === 1);
  const [{ name, type, bytes }] = await page.evaluate(() => window.shared);
  assert.match(name, /^quay_logc3 - .*\.png$/);
  assert.equal(type, "image/png");
  const native = join(session.scratch, "native.png");
  const look = join(session.scratch, "look.json");
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await writeFile(look, (await savedLook(session)).bytes);
  await lookwright("render", look, input, "-o", native, "--from", "logc3", "--depth", "8");
  assert.ok(Buffer.from(bytes).equals(await readFile(native)));
});

/** As long as a name may be, and a word in it that can't be broken. */
const LONG = "Nachtf\u00e4hren\u00fcberfahrtsbeleuchtungsprobe an der alten Mole, Fassung f\u00fcr das Plakat";

inOneBrowser(
  "a long name of a look widens nothing, and has the whole line while it is written",
  async (session) => {
    const { page } = session;
    await ready(session);
    await page.$eval(
      ".look-name",
      (it, name) => {
        it.value = name;
        it.dispatchEvent(new Event("input", { bubbles: true }));
        it.dispatchEvent(new Event("change", { bubbles: true }));
      },
      LONG,
    );
    const widths = () => page.$eval(".look-name", (it) => it.getBoundingClientRect().width / innerWidth);
    await page.focus(".look-name");
    assert.ok((await widths()) > 0.8, `${await widths()}`);
    await page.keyboard.press("Escape");
    await page.evaluate(() => document.activeElement.blur());
    await settled(session);
    await act(session, "Keep this version");
    const sheets = [["Your looks", ".look-shelf"], ["Choose a look", ".wall"], ["Compare", ".compare"], ["Save the reel", ".batch"], ["Contact sheet", ".contact"]];
    for (const width of [320, 390]) {
      await page.setViewport({ ...TOUCHED.viewport, width });
      for (const [words, sheet] of sheets) {
        await act(session, words);
        await page.waitForSelector(`${sheet}[open]`);
        if (sheet === ".look-shelf" && width === 320) await clickButton(session, sheet, "Keep the look that is on");
        if (sheet === ".look-shelf") await page.waitForSelector(".shelf-row");
        const over = await page.$$eval(`${sheet} *`, (all) => all.filter((it) => it.checkVisibility() && !it.closest("select") && it.getBoundingClientRect().right > innerWidth + 1).map((it) => it.className || it.tagName));
        assert.deepEqual(over, [], `${words} at ${width} px`);
        await page.keyboard.press("Escape");
        await page.waitForSelector("dialog[open]", { hidden: true });
      }
    }
  },
  TOUCHED,
);

inEachBrowser(
  "at four times the size sheets scroll as a whole, and nothing is cut off at the side",
  async (session) => {
    const { page } = session;
    await ready(session);
    // 1280 by 1024 CSS pixels, zoomed to 400 % (WCAG 2.2, 1.4.10).
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 320);
    for (const words of ["Choose a look", "Test strips", "Your looks", "Save the reel", "Contact sheet", "Trims across", "Match a still", "Compare"]) {
      await act(session, words);
      await page.waitForSelector(".full-sheet[open]");
      const found = await page.evaluate(() => {
        const sheet = document.querySelector(".full-sheet[open]");
        const body = sheet.querySelector(".sheet-body");
        return { wide: sheet.scrollWidth, body: body.getBoundingClientRect().height, scrolls: sheet.scrollHeight > sheet.clientHeight };
      });
      assert.ok(found.wide <= 320 && found.body >= 220 && found.scrolls, `${words}: ${JSON.stringify(found)}`);
      // What stands last can be brought into view.
      const last = await page.$$eval(".full-sheet[open] button", (all) => {
        const button = all.filter((it) => it.checkVisibility()).at(-1);
        button.scrollIntoView({ block: "center" });
        return button.getBoundingClientRect().toJSON();
      });
      assert.ok(last.top >= 0 && last.bottom <= 257, `${words}: ${JSON.stringify(last)}`);
      await page.keyboard.press("Escape");
      await page.waitForSelector("dialog[open]", { hidden: true });
    }
  },
  { viewport: { width: 320, height: 256, deviceScaleFactor: 4 } },
);
