// The main job, end to end: a log frame in, a look set, the wipe dragged, and what comes out held
// against the native command line, which runs the same core compiled for this machine.
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { FRAME, choose, clickButton, lookwright, openLogFrame, ready, savedLook, settled, shownPixels, type } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";
import { decode } from "./png.mjs";

/** A look without texture, far from any default. */
const LOOK = {
  lookwright: 1,
  name: "Quay at dusk",
  lens: { exposure: { stops: 0.5 } },
  negative: {
    stock: { balance: "day", speed: 250 },
    halation: { on: false },
    softness: { on: false },
    grain: { on: false },
  },
  scan: { points: { red: 2, blue: -1.5 }, dye_density: { whole: 0.2 } },
};

inEachBrowser("a log frame gets a look, and all that comes out is what the command line makes", async (session) => {
  await ready(session);
  const input = await openLogFrame(session);
  await session.drop("body", { name: "quay.json", bytes: Buffer.from(JSON.stringify(LOOK)) });
  await session.page.waitForFunction(() => document.querySelector(".look-name")?.value === "Quay at dusk");
  await type(session, "scan", "contrast", "Slope", 2.1);
  await settled(session);

  const saved = await savedLook(session);
  const look = JSON.parse(saved.bytes);
  assert.equal(look.scan.contrast.slope, 2.1);
  assert.equal(look.scan.points.red, 2);
  const lookFile = join(session.scratch, "quay.look.json");
  await writeFile(lookFile, saved.bytes);

  const native = join(session.scratch, "native.png");
  await lookwright("render", lookFile, input, "--overwrite", "-o", native, "--from", "logc3", "--depth", "16", "--no-texture");
  compare(await shownPixels(session, "after"), decode(await readFile(native)), "with the look");

  const before = join(session.scratch, "before.png");
  await lookwright("render", lookFile, input, "--overwrite", "-o", before, "--from", "logc3", "--depth", "16", "--before");
  compare(await shownPixels(session, "before"), decode(await readFile(before)), "as the camera saw it");

  await session.page.click(".pill-lit");
  await choose(session, "PNG 16");
  await clickButton(session, "dialog[open]", "Save picture");
  const picture = await session.downloads.next(/\.png$/);
  assert.equal(picture.name, "quay_logc3 - Quay at dusk.png");
  assert.deepEqual(decode(picture.bytes), decode(await readFile(native)));

  await session.page.click(".pill-lit");
  await choose(session, "17");
  await clickButton(session, "dialog[open]", "Save table");
  const table = await session.downloads.next(/\.cube$/);
  const cube = join(session.scratch, "native.cube");
  await lookwright("table", lookFile, "--from", "logc3", "--grid", "17", "--overwrite", "-o", cube);
  assert.equal(table.bytes.toString(), await readFile(cube, "utf8"));
});

/**
 * The canvas shows each number rounded to 8 bits; the file holds it rounded to 16, which can tip
 * a rounding over, but never by more than one.
 */
function compare(shown, file, what) {
  assert.deepEqual([shown.width, shown.height], [FRAME.width, FRAME.height], what);
  assert.deepEqual([file.width, file.height], [FRAME.width, FRAME.height], what);
  let worst = 0;
  let other = 0;
  for (let i = 0; i < file.codes.length; i += 1) {
    const at = Math.floor(i / 3) * 4 + (i % 3);
    const difference = Math.abs(shown.pixels[at] - Math.round(file.codes[i] / 257));
    worst = Math.max(worst, difference);
    if (difference > 0) other += 1;
  }
  assert.ok(worst <= 1, `${what}: differs by up to ${worst} of 255`);
  assert.ok(other / file.codes.length < 0.01, `${what}: ${other} codes differ`);
}

inEachBrowser("the wipe follows pointer and keys, and both sides stay what they are", async (session) => {
  await ready(session);
  await openLogFrame(session);
  const wipe = () => session.page.$eval(".wipe", (it) => Number(it.getAttribute("aria-valuenow")));
  const start = await wipe();
  await session.drag(".wipe", 120, 0);
  await settled(session);
  const dragged = await wipe();
  assert.ok(dragged > start + 10, `${start} to ${dragged}`);
  const line = await session.page.$eval(".wipe", (it) => it.getBoundingClientRect().left + it.offsetWidth / 2);
  const opening = await session.page.$eval(".opening", (it) => it.getBoundingClientRect().toJSON());
  assert.ok(Math.abs((line - opening.left) / opening.width - dragged / 100) < 0.01);

  await session.page.focus(".wipe");
  await session.page.keyboard.press("Home");
  await session.page.waitForSelector('.wipe[aria-valuenow="0"]');
  await session.page.keyboard.press("PageUp");
  await session.page.keyboard.press("ArrowRight");
  await session.page.waitForSelector('.wipe[aria-valuenow="11"]');
  const [before, after] = [await shownPixels(session, "before"), await shownPixels(session, "after")];
  assert.notDeepEqual(before.pixels, after.pixels);

  await session.page.select(".side-label-before", "screen");
  await settled(session);
  assert.deepEqual((await shownPixels(session, "before")).pixels, after.pixels);
});
