// What goes to an editor: packs, plates, tables that are examined; and that long work can be given
// up.
import assert from "node:assert/strict";
import { readFile, readdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { choose, clickButton, closeSave, lookwright, notice, openLogFrame, openPart, openSave, ready, savedLook, settled, shownPixels, type, unfold } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { encode16 } from "./png.mjs";
import { unzip } from "./zip.mjs";

/** Chooses exactly these in one of the pack's lists, or all. */
async function check(session, label, ids) {
  await session.page.evaluate(
    (words, wanted) => {
      const list = [...document.querySelectorAll(".checks")].find((it) => it.querySelector(".checks-label").textContent === words);
      for (const input of list.querySelectorAll("input")) {
        if (input.checked !== (wanted === "all" || wanted.includes(input.value))) input.click();
      }
    },
    label,
    ids,
  );
}

async function chooseGrid(session, grid) {
  await session.page.evaluate((words) => {
    const segments = [...document.querySelectorAll(".pack .segment")];
    segments.find((it) => it.textContent === words).querySelector("input").click();
  }, grid);
}

const packSays = (session, pattern) =>
  session.page.waitForFunction((source) => new RegExp(source).test(document.querySelector(".pack-count")?.textContent), { polling: 50 }, pattern);

inOneBrowser("a pack is what the command line makes, and its tables are too", async (session) => {
  await ready(session);
  const input = await openLogFrame(session);
  await session.drop("body", { name: "quay.json", bytes: Buffer.from('{"lookwright":1,"name":"Quay","negative":{"stock":{"balance":"day","speed":320}}}') });
  await session.page.waitForFunction(() => document.querySelector(".look-name")?.value === "Quay");
  const look = join(session.scratch, "quay.look.json");
  await writeFile(look, (await savedLook(session)).bytes);

  await openSave(session, "Hand-over pack");
  await packSays(session, "^2 tables, ");
  await check(session, "On stock", ["own", "evening"]);
  await check(session, "Part of the path", ["whole", "camera-to-scan"]);
  await chooseGrid(session, "17");
  // Two stocks, two parts and the one to scene code, two formats.
  await choose(session, "To ACEScct, for a pipeline that renders with ACES 2.0");
  await packSays(session, "^12 tables, about \\d+\\.\\d MB, .* an OpenColorIO configuration, ");
  await session.page.waitForFunction(() => document.querySelector(".pack-examined")?.textContent === "" && document.querySelectorAll(".pack-health li").length > 0);
  const health = await session.page.$$eval(".pack-health li", (all) => all.map((it) => it.textContent).join("\n"));
  assert.match(health, /LogC3 .*on Day 320.*; LogC3 .*on Lamp 500/);
  assert.match(health, /(Nothing will hurt|May show in some pictures: |Will show: )/);
  await clickButton(session, "dialog[open]", "Save pack");
  const saved = await session.downloads.next(/\.zip$/);
  assert.equal(saved.name, "Quay - hand-over.zip");

  const table = join(session.scratch, "table.cube");
  await lookwright("table", look, "--from", "logc3", "--grid", "17", "--overwrite", "-o", table);
  const files = unzip(saved.bytes);
  const inside = files.get("day-320/quay_day-320_logc3-full_to_rec709-full_grid17.cube");
  assert.ok(inside, [...files.keys()].join("\n"));
  assert.ok([...files.keys()].some((path) => path.startsWith("contact-sheet")));
  assert.deepEqual(inside, await readFile(table));

  const pack = join(session.scratch, "native.zip");
  await lookwright("pack", look, "--from", "logc3", "--stock", "overcast,evening", "--split", "whole,camera-to-scan", "--scene", "acescct", "--undo", "aces", "--grid", "17", "--frame", input, "--frame-from", "logc3", "--overwrite", "-o", pack);
  assert.deepEqual([...unzip(await readFile(pack)).keys()], [...files.keys()]);
  assert.ok(saved.bytes.equals(await readFile(pack)), "the zips differ");
});

inOneBrowser("code of high dynamic range is not saved in 8 bits, and the dialog says why beforehand", async (session) => {
  await ready(session);
  await openLogFrame(session);
  await unfold(session, "screen", "display");
  await choose(session, "Rec.2100 PQ, peak 1000 cd/m2");
  await settled(session);
  await openSave(session);
  const said = () => session.page.$eval(".save-sum", (it) => it.textContent);
  assert.match(await said(), /^PQ and HLG take 10 bits or more \(ITU-R BT\.2100-2\)/);
  await clickButton(session, "dialog[open]", "Save picture");
  await notice(session, /^PQ and HLG take 10 bits or more/);
  await choose(session, "PNG 16");
  assert.match(await said(), /^PNG 16, 320/);
  await clickButton(session, "dialog[open]", "Save picture");
  assert.match((await session.downloads.next(/\.png$/)).name, /\.png$/);
});

inOneBrowser("long work shows how far it is and can be cancelled; nothing else changes", async (session) => {
  await ready(session);
  await openLogFrame(session);
  await type(session, "scan", "contrast", "Slope", 2.2);
  await settled(session);
  const shown = await shownPixels(session, "after");
  const kept = await session.page.$eval('[aria-label="Undo"]', (it) => it.title);

  await openSave(session, "Hand-over pack");
  await check(session, "For footage in", "all");
  await check(session, "On stock", "all");
  await chooseGrid(session, "65");
  await packSays(session, "^\\d{3} tables, about [\\d.]+ [MG]B, ");
  await clickButton(session, "dialog[open]", "Save pack");
  await session.page.waitForFunction(() => /[1-9]\d* of \d+ files/.test(document.querySelector(".notice-job")?.textContent ?? ""), { polling: 50 });
  assert.deepEqual(await session.accessibilityFaults("#notices"), []);
  // The page goes on meanwhile.
  await closeSave(session);
  await type(session, "scan", "contrast", "Slope", 2.4);
  await settled(session);
  assert.notDeepEqual((await shownPixels(session, "after")).pixels, shown.pixels);
  await session.page.click('[aria-label="Undo"]');
  await settled(session);
  await openSave(session);
  await clickButton(session, "dialog[open]", "Save picture");
  await notice(session, /^Something is being saved already; wait for it, or cancel it\.$/);
  await clickButton(session, "dialog.save .notice-job", "Cancel");
  assert.equal(await notice(session, /cancelled/), "Making the pack was cancelled; no file was written.");
  assert.equal((await session.page.$$(".notice-job")).length, 0);
  assert.equal(await session.page.$eval('[aria-label="Undo"]', (it) => it.title), kept);
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown.pixels);

  await closeSave(session);
  await session.drop("body", { name: "large_logc3.png", bytes: encode16(2400, 1600, (x, y) => [x / 2400, y / 1600, 0.4]) });
  await session.page.waitForSelector('.pane[aria-label="Picture large_logc3.png"]');
  await settled(session);
  await openSave(session);
  await clickButton(session, "dialog[open]", "Save picture");
  // In the middle of the work.
  await session.page.waitForFunction(
    () => {
      const card = document.querySelector(".notice-job");
      if (!/[1-9]\d*\s%/.test(card?.textContent ?? "")) return false;
      card.querySelector("button").click();
      return true;
    },
    { polling: 10 },
  );
  await notice(session, /^Saving the picture was cancelled; no file was written\.$/);
  assert.deepEqual(await readdir(session.downloads.folder), []);
  // And it still saves.
  await openSave(session);
  await clickButton(session, "dialog[open]", "Save picture");
  const picture = await session.downloads.next(/\.png$/);
  assert.ok(picture.bytes.length > 1000);
  assert.equal((await session.page.$$(".notice-job")).length, 0);
});

inOneBrowser("a dropped table is examined in one notice, and a broken one says what is wrong", async (session) => {
  await ready(session);
  await openLogFrame(session);
  const shown = await shownPixels(session, "after");
  const rows = (of) => [0, 1].flatMap((b) => [0, 1].flatMap((g) => [0, 1].map((r) => of(r, g, b).join(" ")))).join("\n");
  const cube = (of) => Buffer.from(`LUT_3D_SIZE 2\n${rows(of)}\n`);
  await session.drop("body", { name: "turned.cube", bytes: cube((r, g, b) => [1 - r, 1 - g, 1 - b]) });
  assert.match(await notice(session, /^turned\.cube/), /^turned\.cube is a table \(\.cube, grid 2\), so it was examined\. Will show: [A-Z].+\.$/);
  await session.drop("body", { name: "broken.cube", bytes: Buffer.from("LUT_3D_SIZE 2\n0 0 0\n1 0 oops\n") });
  const sentence = await notice(session, /^broken\.cube: /);
  assert.match(sentence, /line 3/);
  assert.ok(!sentence.includes("\n"));
  await settled(session);
  assert.deepEqual((await shownPixels(session, "after")).pixels, shown.pixels);
});

inOneBrowser("plates are what the command line makes, and only of texture that the look has", async (session) => {
  await ready(session);
  const input = await openLogFrame(session);
  await session.drop("body", { name: "quay.json", bytes: Buffer.from('{"lookwright":1,"name":"Quay","negative":{"grain":{"on":true},"halation":{"on":true}}}') });
  await session.page.waitForFunction(() => document.querySelector(".look-name")?.value === "Quay");
  const look = join(session.scratch, "quay.look.json");
  await writeFile(look, (await savedLook(session)).bytes);
  await openSave(session, "Plates");
  const off = await session.page.$$eval("dialog[open] .save-actions button", (all) => all.filter((it) => it.disabled).map((it) => it.textContent));
  assert.deepEqual(off, ["Save dust"]);
  await clickButton(session, "dialog[open]", "Save grain");
  const grain = await session.downloads.next(/grain\.zip$/);
  assert.equal(grain.name, "quay_logc3 - Quay - grain.zip");
  const plates = unzip(grain.bytes);
  const folder = join(session.scratch, "plates");
  await lookwright("plate", look, "--kind", "grain", "--size", "320x200", "--frames", "1", "--overwrite", "-o", folder);
  for (const file of ["grain.0001.png", "gain.cube", "blend.txt"]) assert.ok(plates.get(file).equals(await readFile(join(folder, file))), `${file} differs`);

  await openSave(session, "Plates");
  await clickButton(session, "dialog[open]", "Save halation");
  const halation = await session.downloads.next(/halation\.png$/);
  const native = join(session.scratch, "native.png");
  await lookwright("plate", look, "--kind", "halation", "--picture", input, "--from", "logc3", "--overwrite", "-o", native);
  assert.ok(halation.bytes.equals(await readFile(native)), "the halation plates differ");
});

inOneBrowser("codes of the scan are also said in stops and as they are seen", async (session) => {
  await ready(session);
  await type(session, "scan", "contrast", "Pivot", 475);
  const words = () => session.page.$eval('[data-step="contrast"] .row-words', (it) => it.textContent);
  const says = (pattern) => session.page.waitForFunction((source) => new RegExp(source).test(document.querySelector('[data-step="contrast"] .row-words')?.textContent), { polling: 50 }, pattern);
  // The published film-scan code (H-387, 1993): mid-grey at gamma 0.6 is code 475, a stop 90.3 codes.
  await says("^0\\.0 stops \u00b7 screen \\d+ of 255$");
  const before = await words();
  // Lamp film of ISO 500 is a little softer than gamma 0.6, so the same code is more stops.
  await type(session, "scan", "contrast", "Pivot", 656);
  await says("^\\+2\\.[0-3] stops");
  await type(session, "scan", "contrast", "Pivot", 475);
  await says("^0\\.0 stops");
  await unfold(session, "scan", "contrast");
  await session.page.$eval('[data-step="contrast"] .switch input', (it) => it.checked && it.click());
  await settled(session);
  assert.equal(await words(), before, "the pivot stays put whatever the contrast");

  await unfold(session, "scan", "curves");
  await clickButton(session, '[data-step="curves"]', "Add point");
  await session.page.waitForFunction(() => document.activeElement.className === "curve-point");
  // Without contrast before it, a curve's code is the scan's: (511.5 - 475.3) / 90.3.
  await session.page.waitForFunction(() => /^in code 512, \+0\.4 stops\nout code 512, screen \d+ of 255$/.test(document.querySelector(".curve-readout")?.textContent), { polling: 50 });
});

inEachBrowser(
  "on a phone the save dialog is no wider than the screen, whatever is open in it",
  async (session) => {
    await ready(session);
    for (const title of ["Picture", "Table", "Hand-over pack", "Plates", "Look"]) {
      await openSave(session, title);
      await session.page.$$eval("dialog .checks", (all) => all.forEach((it) => (it.open = it.checkVisibility())));
      const { wide, dialog } = await session.page.evaluate(() => {
        const box = document.querySelector("dialog.save");
        return { wide: document.documentElement.scrollWidth, dialog: [box.scrollWidth - box.clientWidth, box.getBoundingClientRect().right] };
      });
      assert.ok(wide <= 390 && dialog[0] <= 0 && dialog[1] <= 390, `${title}: ${wide}, ${dialog}`);
    }
    await openPart(session, "Hand-over pack");
    await session.page.waitForSelector(".pack-health li");
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { viewport: PHONE },
);
