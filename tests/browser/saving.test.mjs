// What is saved: how large it will be, what a camera wrote into a photo, which footage a table is for; and the dialog.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import exif from "exif-reader";
import { footageEncoding } from "../../web/js/pure/save/footage.js";
import { exifOf, withoutPlace } from "../../web/js/pure/save/exif.js";
import { plainBytes, savedSize } from "../../web/js/pure/save/size.js";
import { clickButton, closeSave, openPart, openSave, ready, settled } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";

const PHOTO = await readFile(new URL("../../demo-images/window-box.jpg", import.meta.url));

/**
 * A segment with a maker, a time and a place (CIPA DC-008: tags 0x010f, 0x0132 and, in a directory of its own,
 * 0x0001 to 0x0004), little-endian.
 */
function placedSegment() {
  const [make, time] = ["Saltmarket Works\0", "2026:11:26 23:10:00\0"].map((it) => Buffer.from(it, "latin1"));
  const degrees = (...all) => Buffer.concat(all.map(([top, bottom]) => Buffer.from(new Uint32Array([top, bottom]).buffer)));
  const [north, west] = [degrees([50, 1], [49, 1], [1234, 100]), degrees([0, 1], [8, 1], [4321, 100])];
  const entry = (tag, type, count, value) => {
    const bytes = Buffer.alloc(12);
    bytes.writeUInt16LE(tag, 0);
    bytes.writeUInt16LE(type, 2);
    bytes.writeUInt32LE(count, 4);
    if (Buffer.isBuffer(value)) value.copy(bytes, 8);
    else bytes.writeUInt32LE(value, 8);
    return bytes;
  };
  const place = 8 + 2 + 3 * 12 + 4;
  const data = place + 2 + 5 * 12 + 4;
  const directory = (...entries) => Buffer.concat([Buffer.from([entries.length, 0]), ...entries, Buffer.alloc(4)]);
  const first = directory(entry(0x010f, 2, make.length, data), entry(0x0132, 2, time.length, data + make.length), entry(0x8825, 4, 1, place));
  const at = data + make.length + time.length;
  const gps = directory(entry(0, 1, 4, Buffer.from([2, 3, 0, 0])), entry(1, 2, 2, Buffer.from("N\0")), entry(2, 5, 3, at), entry(3, 2, 2, Buffer.from("W\0")), entry(4, 5, 3, at + north.length));
  const block = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), Buffer.from([0x49, 0x49, 42, 0, 8, 0, 0, 0]), first, gps, make, time, north, west]);
  const marker = Buffer.from([0xff, 0xe1, 0, 0]);
  marker.writeUInt16BE(block.length + 2, 2);
  return Buffer.concat([marker, block]);
}

/** As another reader understands a segment. */
const understood = (segment) => exif(Buffer.from(segment).subarray(10));

test("where a photo was taken is taken out, and nothing else", () => {
  const segment = exifOf(new Uint8Array(Buffer.concat([PHOTO.subarray(0, 2), placedSegment(), PHOTO.subarray(2)])));
  const before = understood(segment);
  assert.deepEqual(before.GPSInfo.GPSLatitude, [50, 49, 12.34]);
  const after = withoutPlace(segment);
  assert.equal(after.length, segment.length);
  const { Image, GPSInfo } = understood(after);
  assert.deepEqual(Image, before.Image);
  assert.deepEqual(Object.keys(GPSInfo), ["GPSVersionID"]);
  // The numbers themselves are gone, too: 1234 / 100.
  assert.ok(Buffer.from(segment).includes(Buffer.from(new Uint32Array([1234, 100]).buffer)));
  assert.ok(!Buffer.from(after).includes(Buffer.from(new Uint32Array([1234, 100]).buffer)));
});

test("a saved picture's size is said before it is saved", () => {
  assert.deepEqual(savedSize({ width: 6000, height: 4000 }, 2048), { width: 2048, height: 1365 });
  assert.deepEqual(savedSize({ width: 900, height: 1200 }, 2048), { width: 900, height: 1200 });
  // ST 268: three 10-bit codes in 32 bits; TIFF 6.0: samples one after the other.
  assert.deepEqual(plainBytes("dpx10", 1000), { bytes: 4000, exact: true });
  assert.deepEqual(plainBytes("tiff16", 1000), { bytes: 6000, exact: true });
  assert.equal(plainBytes("jpeg", 1000), null);
});

test("a table is for footage, never for what a screen shows", () => {
  const screens = ["srgb", "rec709"];
  const wanted = (own, reel, last) => footageEncoding({ own, reel, last, usual: "logc3", screens });
  assert.equal(wanted("vlog", ["srgb"], "logc4"), "vlog");
  assert.equal(wanted("srgb", ["srgb", "vlog", "slog3", "vlog"], undefined), "vlog");
  assert.equal(wanted("srgb", ["srgb", "vlog"], "logc4"), "logc4");
  assert.equal(wanted("srgb", ["srgb", "rec709"], undefined), "logc3");
});

inEachBrowser("the save dialog keeps its place, stays open, remembers, and says what comes of it", async (session) => {
  await ready(session);
  const { page } = session;
  await session.drop("body", { name: "photo.jpg", bytes: Buffer.concat([PHOTO.subarray(0, 2), placedSegment(), PHOTO.subarray(2)]) });
  await page.waitForSelector('.pane[aria-label="Picture photo.jpg"]');
  await settled(session);
  await openSave(session, "Picture");
  const places = () => page.evaluate(() => [...document.querySelectorAll("dialog.save, .save-head, .part-tab")].map((it) => Object.values(it.getBoundingClientRect().toJSON()).join(" ")).join("\n"));
  const before = await places();
  for (const title of ["Table", "Hand-over pack", "Plates", "Look", "Session"]) {
    await openPart(session, title);
    assert.equal(await places(), before, title);
  }
  // By keyboard: the list is one stop, arrows go along it.
  await page.focus('.part-tab[aria-selected="true"]');
  await page.keyboard.press("ArrowDown");
  assert.equal(await page.$eval('.part-tab[aria-selected="true"]', (it) => it.textContent), "Picture");
  const sum = () => page.waitForFunction(() => /^JPEG,(?: sRGB,)? [\d,]+ \u00d7 [\d,]+ pixels, about [\d.]+ MB\.$/.exec(document.querySelector(".save-sum").textContent)?.[0]).then((it) => it.jsonValue());
  const full = await sum();
  const chosen = async (label, value) => {
    await page.evaluate((words, to) => {
      const row = [...document.querySelectorAll(".save-option")].find((it) => it.firstElementChild.textContent === words);
      const menu = row.querySelector("select, input");
      menu.value = to;
      menu.dispatchEvent(new Event(menu.type === "range" ? "input" : "change"));
    }, label, value);
  };
  await chosen("Size", "1080");
  await chosen("Quality", "80");
  const small = await sum();
  assert.notEqual(small, full);
  const [, width, height, said] = /([\d,]+) \u00d7 ([\d,]+) pixels, about ([\d.]+) MB/.exec(small);
  assert.equal(Math.max(Number(width), Number(height)), 1080);
  await clickButton(session, "dialog.save", "Save picture");
  const saved = (await session.downloads.next(/photo - .*\.jpg$/)).bytes;
  assert.ok(Math.abs(saved.length / 1e6 - Number(said)) < 0.3 * Number(said) + 0.06, `${saved.length} bytes, said ${said} MB`);
  const { Image, GPSInfo } = understood(exifOf(new Uint8Array(saved)));
  assert.equal(Image.Make, "Saltmarket Works");
  assert.deepEqual(Object.keys(GPSInfo), ["GPSVersionID"], "the place stays here unless it is asked for");
  // It stays open, and what was done is said in it.
  await page.waitForFunction(() => [...document.querySelectorAll("dialog.save[open] .notice")].some((it) => /was handed to this browser/.test(it.textContent)));
  await closeSave(session);
  assert.ok(await page.$("body > .notices"));
  await page.reload();
  await ready(session);
  await openSave(session);
  assert.equal(await page.$eval('.part-tab[aria-selected="true"]', (it) => it.textContent), "Picture");
  assert.equal(await sum(), small);
});
