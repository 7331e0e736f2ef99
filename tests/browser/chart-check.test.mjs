// Chart check: a chart is found in a frame, says its exposure and light, and shows what the look does to it.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { PHONE, inOneBrowser } from "./harness.mjs";
import { act, allOf, clickButton, ready, settled, textOf } from "./desk.mjs";
import { encode16 } from "./png.mjs";

const TABLET = { width: 1024, height: 768 };
const lights = JSON.parse(await readFile(new URL("../reference/lights.json", import.meta.url), "utf8"));
const [WIDTH, HEIGHT] = [720, 480];
/** ACEScct of AP1 light (Academy S-2016-001). */
const cct = (light) => (light > 0.0078125 ? (Math.log2(light) + 9.72) / 17.52 : 10.5402377416545 * light + 0.0729055341958355);
/** From the middle of one patch to the next, in pixels; where the middle of the chart lies; how it is turned. */
const MESH = 70;
const MIDDLE = [390, 230];

/** The chart in one of the published lights (`tests/reference/lights.py`), turned, over an even ground. */
function chartFrame({ light, stops, degrees }) {
  const { patches } = lights.find((it) => it.light === light);
  const [sine, cosine] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  return encode16(WIDTH, HEIGHT, (x, y) => {
    const [dx, dy] = [(x - MIDDLE[0]) / MESH, (y - MIDDLE[1]) / MESH];
    const [u, v] = [dx * cosine + dy * sine + 2.5, dy * cosine - dx * sine + 1.5];
    const [column, row] = [Math.round(u), Math.round(v)];
    const card = u > -0.75 && u < 5.75 && v > -0.75 && v < 3.75;
    const patch = Math.abs(u - column) < 0.43 && Math.abs(v - row) < 0.43 ? patches[row * 6 + column] : undefined;
    const colour = !card ? [0.2, 0.15, 0.1] : column >= 0 && column < 6 && row >= 0 && row < 4 ? (patch ?? [0.03, 0.03, 0.03]) : [0.03, 0.03, 0.03];
    return colour.map((value) => cct(value * 2 ** stops));
  });
}

async function openFrame(session, name, bytes) {
  await session.drop("body", { name, bytes });
  await session.page.waitForSelector(`.pane[aria-label="Picture ${name}"]`);
  await settled(session);
}

async function instruments(session) {
  await session.page.keyboard.press("i");
  await session.page.waitForSelector('.desk[data-panel="instruments"] .scope-of-chart');
}

const found = (session) => session.page.waitForSelector(".chart-found:not([hidden])");
const shot = (session, name) => process.env.LOOKWRIGHT_SHOTS && session.page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/chart-${name}.png` });
const grey = (page, column) => page.$eval(`[data-patch="neutral 5"] td:nth-of-type(${column})`, (it) => parseFloat(it.textContent.replace("\u2212", "-")));
const corner = (page, which) => page.$eval(`.chart-corner:nth-of-type(${which})`, (it) => [parseFloat(it.style.left), parseFloat(it.style.top)]);

inOneBrowser("a chart is found, its exposure and light are taken and undone, and its table is saved", async (session) => {
  const { page } = session;
  await ready(session);
  await openFrame(session, "slate_acescct.png", chartFrame({ light: "3200", stops: -1, degrees: 7 }));
  await act(session, "Find the chart in this frame");
  await found(session);
  // 3206.8 K (Ohno 2013, colour-science), a stop under its reflectances.
  const said = /Exposure \+([\d.]+) stops, light (\d+) K, .* by all six greys/.exec(await textOf(page, ".chart-trim"));
  assert.ok(said, await textOf(page, ".chart-trim"));
  assert.ok(Math.abs(1e6 / Number(said[2]) - 1e6 / 3206.8) < 5, said[2]);
  assert.ok(Math.abs(Number(said[1]) - 1) < 0.08, said[1]);
  assert.equal(await page.$$eval(".chart-outlines polygon", (all) => all.length), 24);
  assert.equal(await page.$$eval(".chart-arrows g title", (all) => all.length), 24);
  // Where the first patch's middle was drawn.
  const turn = (7 * Math.PI) / 180;
  const at = [-2.5 * Math.cos(turn) + 1.5 * Math.sin(turn), -2.5 * Math.sin(turn) - 1.5 * Math.cos(turn)].map((way, i) => MIDDLE[i] + way * MESH);
  const [left, top] = await corner(page, 1);
  assert.ok(Math.hypot((left / 100) * WIDTH - at[0], (top / 100) * HEIGHT - at[1]) < 3, `${left} % ${top} %`);
  const dark = await grey(page, 2);
  await shot(session, "found");

  await clickButton(session, ".scope-of-chart", "Use these");
  await page.waitForFunction(() => [...document.querySelectorAll(".chart-suggests button")].some((it) => it.disabled && it.textContent === "The trim has these"));
  // Mid-grey then lies where its reflectance, 19.1 %, puts it: 0.09 stops above 18 %.
  await page.waitForFunction(() => document.querySelector('[data-patch="neutral 5"] td')?.textContent === "+0.1");
  assert.ok((await grey(page, 2)) < 2 && dark > 10, `${dark} before`);
  await settled(session);
  await shot(session, "taken");
  await page.keyboard.down("Control");
  await page.keyboard.press("z");
  await page.keyboard.up("Control");
  await page.waitForFunction(() => document.querySelector(".chart-suggests button")?.textContent === "Use these");
  await page.waitForFunction((was) => parseFloat(document.querySelector('[data-patch="neutral 5"] td:nth-of-type(2)')?.textContent) === was, {}, dark);

  await clickButton(session, ".scope-of-chart", "Save as CSV");
  const saved = await session.downloads.next(/\.csv$/);
  const lines = String(saved.bytes).trim().split("\r\n").map((line) => line.split(","));
  assert.equal(lines.length, 25);
  assert.deepEqual(lines[1].slice(0, 2), ["slate_acescct.png", "dark skin"]);
  assert.equal(lines[0].length, lines[24].length);
  assert.deepEqual(await session.accessibilityFaults(), []);
});

inOneBrowser("marks are put on a chart by hand and by keys; where there is none it is said", async (session) => {
  const { page } = session;
  await ready(session);
  await instruments(session);
  await clickButton(session, ".scope-of-chart", "Find the chart");
  await page.waitForFunction(() => document.querySelector(".chart-says")?.textContent.startsWith("No 24-patch chart was found in this frame"));
  assert.equal(await page.$$eval(".chart-corner", (all) => all.length), 4);
  assert.deepEqual(await session.accessibilityFaults(), []);
  await shot(session, "none");

  // Upside down: read the right way up, and said.
  await openFrame(session, "turned_acescct.png", chartFrame({ light: "D55", stops: 0, degrees: 180 }));
  await clickButton(session, ".scope-of-chart", "Mark it by hand");
  await page.waitForFunction(() => document.querySelector(".chart-says")?.textContent.startsWith("The patches between these marks are not"));
  const box = await (await page.$(".chart-marks")).boundingBox();
  const drag = async (which, to) => {
    const handle = await (await page.$(`.chart-corner:nth-of-type(${which})`)).boundingBox();
    await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + (to[0] / WIDTH) * box.width, box.y + (to[1] / HEIGHT) * box.height, { steps: 4 });
    await page.mouse.up();
  };
  const places = [[-2.5, -1.5], [2.5, -1.5], [2.5, 1.5], [-2.5, 1.5]].map((way) => way.map((by, i) => MIDDLE[i] + by * MESH));
  for (const [i, to] of places.entries()) await drag(i + 1, to);
  await found(session);
  await page.waitForFunction(() => document.querySelector(".chart-remarks")?.textContent.includes("upside down"));
  const [left] = await corner(page, 1);
  await page.focus(".chart-corner:nth-of-type(1)");
  await page.keyboard.press("ArrowLeft");
  assert.ok(Math.abs((await corner(page, 1))[0] - (left - 0.2)) < 0.01);
  await shot(session, "hand");

  // The marks belong to their frame.
  await act(session, "Undo");
  await clickButton(session, ".scope-of-chart", "Clear marks");
  await page.waitForSelector(".chart-marks[hidden]");
  assert.equal(await page.$(".chart-found:not([hidden])"), null);
});

for (const [name, viewport] of Object.entries({ phone: PHONE, tablet: TABLET })) {
  inOneBrowser(
    `on a ${name} the chart's card fits, and axe finds nothing`,
    async (session) => {
      const { page } = session;
      await ready(session);
      await openFrame(session, "slate_acescct.png", chartFrame({ light: "D55", stops: 0.5, degrees: -5 }));
      await act(session, "Find the chart in this frame");
      await found(session);
      await page.$eval(".scope-of-chart", (it) => it.scrollIntoView());
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${wide} px wider than the window`);
      assert.deepEqual(await session.accessibilityFaults(), []);
      await shot(session, name);
    },
    { viewport },
  );
}
