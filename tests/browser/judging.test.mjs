// What is judged by on the picture: a screen's own targets, stops and limits marked, pinned probes.
import assert from "node:assert/strict";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { act, allOf, clickButton, ready, settled, shownPixels, unfold } from "./desk.mjs";
import { encode16 } from "./png.mjs";

const TABLET = { width: 1024, height: 768 };
const COLUMN = 32;
/** LogC3 at EI 800: c log10(a x + b) + d (ARRI, ALEXA Log C Curve, 2017). */
const logC3 = (light) => 0.24719 * Math.log10(5.555556 * light + 0.052272) + 0.385537;
/** Light of 18 % times powers of two, -5 to +5, a column each. */
const STEPS = encode16(11 * COLUMN, 160, (x) => Array(3).fill(logC3(0.18 * 2 ** (Math.floor(x / COLUMN) - 5))));

async function openSteps(session) {
  await ready(session);
  await session.drop("body", { name: "steps_logc3.png", bytes: STEPS });
  await session.page.waitForSelector('.pane[aria-label="Picture steps_logc3.png"]');
  await settled(session);
}

async function instruments(session) {
  await session.page.keyboard.press("i");
  await session.page.waitForSelector('.desk[data-panel="instruments"]');
}

async function mark(session, id) {
  await session.page.select('.scope-of-marking select', id);
  await session.page.waitForFunction(() => document.querySelector(".marking-share")?.textContent);
  await settled(session);
}

/** What is shown at the middle of each column. */
async function columns(session) {
  const { width, height, pixels } = await shownPixels(session, "after");
  return Array.from({ length: 11 }, (_, i) => {
    const at = 4 * (Math.floor(height / 2) * width + Math.floor(((i + 0.5) / 11) * width));
    return [...pixels.subarray(at, at + 3)];
  });
}

inOneBrowser("stops are marked as powers of two, as the key says, and the picture comes back", async (session) => {
  const { page } = session;
  await openSteps(session);
  await instruments(session);
  const plain = await columns(session);
  await mark(session, "scene-stops");
  const key = await page.$$eval(".marking-sign rect", (all) => all.map((it) => it.getAttribute("fill").match(/\d+/g).map(Number)));
  assert.deepEqual(await columns(session), key);
  const says = await allOf(page, ".marking-key li span:nth-of-type(1)");
  assert.equal(says[5], "grey");
  assert.equal(says[6], "+1");
  // The light of a column's edge is reduced with its neighbour's, so shares are near a part of eleven.
  for (const share of await allOf(page, ".marking-share")) assert.ok(Math.abs(parseFloat(share) - 100 / 11) < 1.5, share);
  assert.deepEqual(await session.accessibilityFaults(), []);
  if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/stops.png` });

  await mark(session, "limits");
  assert.equal((await allOf(page, ".marking-key li")).length, 3);

  // Where the key is not in sight, the picture is what it was.
  await page.keyboard.press("i");
  await page.waitForSelector('.desk:not([data-panel="instruments"])');
  await settled(session);
  assert.deepEqual(await columns(session), plain);
});

inOneBrowser("a screen has bars of its own on the vectorscope", async (session) => {
  const { page } = session;
  await openSteps(session);
  await unfold(session, "screen", "display");
  await page.evaluate(() => {
    const option = document.querySelector('[data-step="display"] [data-control="screen"] :is(option, input)[value="rec2020"]');
    const menu = option.closest("select");
    if (!menu) return option.click();
    menu.value = "rec2020";
    menu.dispatchEvent(new Event("change"));
  });
  await instruments(session);
  await page.waitForSelector('.scope-marks[data-screen="rec2020"]');
  const green = await page.$eval(".scope-marks rect:nth-of-type(3)", (it) => [it.x, it.y].map((at) => at.baseVal.value + 2.2));
  // ITU-R BT.2020-2 table 4, at 75 %.
  assert.ok(Math.abs(green[0] - (50 - (75 * 0.678) / 1.8814)) < 0.01, `${green}`);
  assert.ok(Math.abs(green[1] - (50 + (75 * 0.678) / 1.4746)) < 0.01, `${green}`);
});

inEachBrowser("pins stay, read an area, move by keys and are saved as a table", async (session) => {
  const { page } = session;
  await openSteps(session);
  await instruments(session);
  const canvas = await (await page.$(".opening")).boundingBox();
  const pointAt = (column) => page.mouse.move(canvas.x + (canvas.width * (column + 0.5)) / 11, canvas.y + canvas.height / 2);
  const values = (pin, stage) => allOf(page, `.pin:nth-child(${pin}) tr:nth-child(${stage}) td`);
  const reads = (pin, said) => page.waitForFunction((n, words) => document.querySelector(`.pin:nth-child(${n}) td`)?.textContent === words, {}, pin, said);
  await pointAt(7);
  await page.keyboard.press(".");
  await reads(1, "+2.0");
  await pointAt(3);
  await page.keyboard.press(".");
  await reads(2, "\u22122.0");
  assert.deepEqual(await values(1, 1), ["+2.0", "+2.0", "+2.0"]);
  assert.deepEqual(await allOf(page, ".pin-marks b"), ["1", "2"]);

  // By keys alone: a column to the right; beyond the picture, its last pixel.
  const place = async (value) => {
    await page.focus('[aria-label="Pin 1, x in pixels"]');
    await page.$eval('[aria-label="Pin 1, x in pixels"]', (it) => it.select());
    await page.keyboard.type(String(value));
    await page.keyboard.press("Enter");
  };
  await place(8.5 * COLUMN);
  await reads(1, "+3.0");
  await place(99999);
  await reads(1, "+5.0");
  assert.equal(await page.$eval('[aria-label="Pin 1, x in pixels"]', (it) => it.value), String(11 * COLUMN - 1));
  await place(8 * COLUMN);
  // Nine pixels about a column's first: four of two stops, five of three; light is averaged.
  await reads(1, `+${Math.log2((4 * 4 + 5 * 8) / 9).toFixed(1)}`);
  assert.deepEqual(await session.accessibilityFaults(), []);
  if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/pins.png` });

  await page.evaluate(() => [...document.querySelectorAll(".pin-foot button")].find((it) => it.textContent === "Save as CSV").click());
  const saved = await session.downloads.next(/\.csv$/);
  const lines = String(saved.bytes).trim().split("\r\n").map((line) => line.split(","));
  assert.equal(lines.length, 1 + 2 * 6);
  assert.deepEqual(lines[0], ["frame", "pin", "x", "y", "side", "stage", "unit", "red", "green", "blue"]);
  assert.deepEqual(lines[1].slice(0, 7), ["steps_logc3.png", "1", String(8 * COLUMN), lines[1][3], "9", "Intake", "stops"]);
  assert.ok(Math.abs(Number(lines[1][8]) - Math.log2(56 / 9)) < 0.005, lines[1][8]);

  await page.click('[aria-label="Take off pin 1"]');
  await page.waitForFunction(() => document.querySelectorAll(".pin").length === 1);
  await reads(1, "\u22122.0");
});

inOneBrowser("a pin beyond a smaller frame stands, is read and is saved at its edge, and numbers of another frame go", async (session) => {
  const { page } = session;
  await openSteps(session);
  await instruments(session);
  await act(session, "Pin what is pointed at");
  await page.waitForFunction(() => document.querySelector(".pin td")?.textContent);
  await page.$eval('[aria-label="Pin 1, x in pixels"]', (it) => {
    it.value = "340";
    it.dispatchEvent(new Event("change"));
  });
  const reads = (words) => page.waitForFunction((said) => document.querySelector(".pin td")?.textContent === said, {}, words);
  await reads("+5.0");
  // The same again leaves the numbers there.
  await page.$eval('[aria-label="Pin 1, x in pixels"]', (it) => it.dispatchEvent(new Event("change")));
  await settled(session);
  await reads("+5.0");

  // No number of the frame before stands in the table under the next one's name.
  await page.evaluate(() => {
    window.mixed = [];
    const note = () => {
      const [name, said] = [document.querySelector(".pane").getAttribute("aria-label"), document.querySelector(".pin td").textContent];
      if (name !== "Picture steps_logc3.png" && said === "+5.0") window.mixed.push(name);
      if (!window.mixed.over) requestAnimationFrame(note);
    };
    note();
  });
  const grey = encode16(64, 48, () => Array(3).fill(logC3(0.18)));
  await session.drop("body", { name: "-2_logc3.png", bytes: grey });
  await page.waitForSelector('.pane[aria-label="Picture -2_logc3.png"]');
  await reads("0.0");
  assert.deepEqual(await page.evaluate(() => ((window.mixed.over = true), [...window.mixed])), []);
  assert.equal(await page.$eval('[aria-label="Pin 1, x in pixels"]', (it) => it.value), "63");
  await clickButton(session, ".pin-foot", "Save as CSV");
  const saved = await session.downloads.next(/\.csv$/);
  const [, line] = String(saved.bytes).split("\r\n");
  // A name that a spreadsheet could take for a formula is marked as words (OWASP, CSV injection).
  assert.match(line, /^'-2_logc3\.png,1,63,47,9,Intake,stops,/);

  // Chosen while the instruments are shut, a marking comes with them.
  await mark(session, "limits");
  await page.keyboard.press("i");
  await page.waitForSelector('.desk:not([data-panel="instruments"])');
  await act(session, "Clip and gamut, on the picture");
  await page.waitForSelector('.desk[data-panel="instruments"]');
  assert.equal(await page.$eval(".scope-of-marking select", (it) => it.value), "limits");
});

for (const [name, viewport] of Object.entries({ phone: PHONE, tablet: TABLET })) {
  inOneBrowser(
    `on a ${name} marks and pins fit, and axe finds nothing`,
    async (session) => {
      const { page } = session;
      await openSteps(session);
      await instruments(session);
      await act(session, "Pin what is pointed at");
      await page.waitForFunction(() => document.querySelector(".pin td")?.textContent);
      await mark(session, "limits");
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${wide} px wider than the window`);
      assert.deepEqual(await session.accessibilityFaults(), []);
      if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/${name}.png` });
    },
    { viewport },
  );
}
