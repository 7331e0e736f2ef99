// What is saved: how large it will be, what a camera wrote into a photo, which footage a table is for; and the dialog.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import exif from "exif-reader";
import { footageEncoding } from "../../web/js/pure/save/footage.js";
import { carried, exifOf } from "../../web/js/pure/save/exif.js";
import { plainBytes, savedSize } from "../../web/js/pure/save/size.js";
import { clickButton, closeSave, openPart, openSave, ready, settled, unfold } from "./desk.mjs";
import { inOneBrowser } from "./harness.mjs";

const PHOTO = await readFile(new URL("../../demo-images/window-box.jpg", import.meta.url));

/**
 * A segment as a camera writes it: a maker, a time, which way up, a packet of XMP, how it was taken with a serial number and a
 * maker's note, where, and a small picture (CIPA DC-008, 4.6; TIFF 6.0, section 2).
 * @param {boolean} little the order of its bytes
 */
function cameraSegment(little) {
  const numbers = (size, ...all) => {
    const bytes = Buffer.alloc(size * all.length);
    all.forEach((value, i) => (little ? bytes.writeUIntLE(value, i * size, size) : bytes.writeUIntBE(value, i * size, size)));
    return bytes;
  };
  const text = (words) => ({ type: 2, count: words.length + 1, bytes: Buffer.from(`${words}\0`, "latin1") });
  const ratios = (...all) => ({ type: 5, count: all.length / 2, bytes: numbers(4, ...all) });
  const raw = (words) => ({ type: 7, count: words.length, bytes: Buffer.from(words, "latin1") });
  const [short, long] = [(value) => ({ type: 3, count: 1, bytes: numbers(2, value) }), (value) => ({ type: 4, count: 1, bytes: numbers(4, value) })];
  /** A directory at a place, and its values behind it. */
  const directory = (at, next, entries) => {
    const list = Object.entries(entries).map(([tag, value]) => ({ tag: Number(tag), ...value }));
    let free = at + 2 + 12 * list.length + 4;
    const [head, values] = [[numbers(2, list.length)], []];
    for (const { tag, type, count, bytes } of list.sort((a, b) => a.tag - b.tag)) {
      const fits = bytes.length <= 4;
      head.push(numbers(2, tag, type), numbers(4, count), fits ? Buffer.concat([bytes, Buffer.alloc(4 - bytes.length)]) : numbers(4, free));
      if (fits) continue;
      values.push(bytes);
      free += bytes.length;
    }
    return Buffer.concat([...head, numbers(4, next), ...values]);
  };
  const [taking, place, small] = [1000, 2000, 3000];
  const block = Buffer.alloc(3200);
  block.write(little ? "II" : "MM", "latin1");
  numbers(2, 42).copy(block, 2);
  numbers(4, 8).copy(block, 4);
  const parts = {
    8: directory(8, small, { 0x010f: text("Saltmarket Works"), 0x0110: text("Box 3"), 0x0112: short(6), 0x0132: text("2026:11:26 23:10:00"), 0x02bc: raw("<x:xmpmeta>packet"), 0x8769: long(taking), 0x8825: long(place), 0x9c9d: raw("o.w.n.e.r.") }),
    [taking]: directory(taking, 0, { 0x829a: ratios(1, 250), 0x829d: ratios(28, 10), 0x8827: short(400), 0x9003: text("2026:11:26 23:09:00"), 0x927c: raw("a maker's note of 7654321"), 0x9286: raw("comment of somebody"), 0xa420: text("unique-8765"), 0xa430: text("Ada Brandt"), 0xa431: text("serial-12345"), 0xa434: text("50 mm f/2"), 0xa435: text("lens-54321") }),
    [place]: directory(place, 0, { 0: { type: 1, count: 4, bytes: Buffer.from([2, 3, 0, 0]) }, 1: text("N"), 2: ratios(50, 1, 49, 1, 1234, 100), 3: text("W"), 4: ratios(0, 1, 8, 1, 4321, 100) }),
    [small]: directory(small, 0, { 0x0103: short(6), 0x0201: long(3100), 0x0202: long(100) }),
  };
  for (const [at, bytes] of Object.entries(parts)) bytes.copy(block, Number(at));
  block.fill("thumb", 3100);
  const marker = Buffer.from([0xff, 0xe1, 0, 0]);
  marker.writeUInt16BE(block.length + 8, 2);
  return Buffer.concat([marker, Buffer.from("Exif\0\0", "latin1"), block]);
}

/** As another reader understands a segment. */
const understood = (segment) => exif(Buffer.from(segment).subarray(10));

for (const little of [true, false]) {
  test(`of a photo's notes camera, taking and date go on, where it was taken only if wanted (${little ? "II" : "MM"})`, () => {
    const segment = exifOf(new Uint8Array(Buffer.concat([PHOTO.subarray(0, 2), cameraSegment(little), PHOTO.subarray(2)])));
    const before = understood(segment);
    assert.deepEqual([before.GPSInfo.GPSLatitude, before.Photo.BodySerialNumber, before.Thumbnail.Compression], [[50, 49, 12.34], "serial-12345", 6]);
    for (const place of [true, false]) {
      const after = carried(segment, { place });
      const { Image, Photo, GPSInfo, Thumbnail } = understood(after);
      const { Make, Model, DateTime } = before.Image;
      assert.deepEqual({ ...Image, ExifTag: 0, GPSTag: 0 }, { Make, Model, DateTime, Orientation: 1, ExifTag: 0, GPSTag: 0 });
      const { ExposureTime, FNumber, ISOSpeedRatings, DateTimeOriginal, LensModel } = before.Photo;
      assert.deepEqual(Photo, { ExposureTime, FNumber, ISOSpeedRatings, DateTimeOriginal, LensModel });
      assert.deepEqual([ExposureTime, FNumber, ISOSpeedRatings, LensModel], [1 / 250, 2.8, 400, "50 mm f/2"]);
      assert.deepEqual(GPSInfo, place ? before.GPSInfo : undefined);
      assert.equal(Thumbnail, undefined);
      // No byte of the rest is there, nor, without the place, the numbers of it.
      const bytes = Buffer.from(after).toString("latin1");
      for (const words of ["7654321", "comment", "unique", "Ada", "serial", "lens-5", "packet", "thumb", "o.w.n.e.r"]) assert.ok(!bytes.includes(words), words);
      const seconds = Buffer.from(little ? [0xd2, 4, 0, 0] : [0, 0, 4, 0xd2]).toString("latin1");
      assert.equal(bytes.includes(seconds), place);
    }
  });
}

test("notes that can't be read are left out", () => {
  const segment = new Uint8Array(cameraSegment(true));
  const broken = (at, value) => Object.assign(segment.slice(), { [at]: value });
  assert.notEqual(carried(segment, { place: false }), null);
  assert.equal(carried(broken(10, 0x58), { place: false }), null);
  assert.equal(carried(broken(12, 0), { place: false }), null);
  // Its first directory lies beyond the end.
  assert.equal(carried(broken(17, 9), { place: true }), null);
  assert.equal(carried(segment.subarray(0, 14), { place: true }), null);
  // Cut off anywhere, or with any byte turned round, it is read as far as it goes, or not.
  for (let at = 10; at < segment.length; at += 3) {
    for (const it of [segment.slice(0, at), broken(at, segment[at] ^ 0xff)]) {
      const kept = carried(it, { place: false });
      if (kept) assert.ok(!Buffer.from(kept).includes(Buffer.from([0xd2, 4, 0, 0, 100, 0, 0, 0])), `byte ${at}`);
    }
  }
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
  assert.equal(wanted("srgb", ["srgb", "vlog"], "logc4"), "vlog");
  assert.equal(wanted("srgb", ["srgb", "rec709"], "logc4"), "logc4");
  assert.equal(wanted("srgb", ["srgb", "rec709"], undefined), "logc3");
});

inOneBrowser("the save dialog keeps its place, stays open, remembers, and says what comes of it", async (session) => {
  await ready(session);
  const { page } = session;
  await session.drop("body", { name: "photo.jpg", bytes: Buffer.concat([PHOTO.subarray(0, 2), cameraSegment(true), PHOTO.subarray(2)]) });
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
  const sum = () => page.waitForFunction(() => /^JPEG,(?: sRGB,)? [\d,]+ \u00d7 [\d,]+ pixels, about [\d.]+ MB\.$/.exec(document.querySelector(".save-sum")?.textContent)?.[0]).then((it) => it.jsonValue());
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
  assert.equal(GPSInfo, undefined, "the place stays here unless it is asked for");
  // It stays open, and what was done is said in it.
  await page.waitForFunction(() => [...document.querySelectorAll("dialog.save[open] .notice")].some((it) => /was handed to this browser/.test(it.textContent)));
  await closeSave(session);
  assert.ok(await page.$("body > .notices"));
  await page.reload();
  await ready(session);
  await openSave(session);
  assert.equal(await page.$eval('.part-tab[aria-selected="true"]', (it) => it.textContent), "Picture");
  assert.equal(await sum(), small);
  // What is marked as sRGB is sRGB, whatever range the delivery has.
  await closeSave(session);
  await unfold(session, "screen", "display");
  const range = await page.$('[data-stage="screen"] [data-step="display"] select:has(option[value="legal"])');
  await range.select("legal");
  await settled(session);
  await openSave(session);
  await clickButton(session, "dialog.save", "Save picture");
  assert.deepEqual((await session.downloads.next(/photo - .*\.jpg$/)).bytes, saved);
});
