// What of saving clips needs no browser: codes of video, and which kind of file it becomes.
import assert from "node:assert/strict";
import { test } from "node:test";
import { clipKind } from "../../web/js/pure/clips/containers.js";
import { evenSize, videoCode } from "../../web/js/pure/clips/video-code.js";

/** A picture of one colour, 0 ... 255. */
const plain = (colour, { width, height }) => Uint8ClampedArray.from({ length: 4 * width * height }, (_, i) => (i % 4 < 3 ? colour[i % 4] : 255));

test("colours have the codes that Rec.709 gives them", () => {
  // 8-bit codes of the bars at 100 %, from memory; they follow from ITU-R BT.709-6, 3.2, 3.3 and 4.6.
  const bars = { "255,255,255": [235, 128, 128], "255,255,0": [219, 16, 138], "0,255,255": [188, 154, 16], "0,255,0": [173, 42, 26], "255,0,255": [78, 214, 230], "255,0,0": [63, 102, 240], "0,0,255": [32, 240, 118], "0,0,0": [16, 128, 128] };
  const size = { width: 4, height: 2 };
  for (const [colour, [luma, cb, cr]] of Object.entries(bars)) {
    assert.deepEqual([...videoCode(plain(colour.split(",").map(Number), size), size)], [...Array(8).fill(luma), cb, cb, cr, cr], colour);
  }
});

test("a colour sample lies beside the left of its two columns, and odd edges are left out", () => {
  // Red in the first two columns of six: the second sample, beside column 2, has a quarter of column 1.
  const size = { width: 7, height: 3 };
  const pixels = plain([0, 0, 0], size);
  for (let y = 0; y < size.height; y += 1) for (const x of [0, 1]) pixels[4 * (y * size.width + x)] = 255;
  assert.deepEqual(evenSize(size), { width: 6, height: 2 });
  const code = videoCode(pixels, size);
  assert.equal(code.length, 12 + 3 + 3);
  const red = 240 - 128;
  assert.deepEqual([...code.subarray(15)], [240, 128 + red / 4, 128]);
});

test("a clip becomes what most players read, and keeps its sound if any kind of file can", () => {
  const inMp4 = (codec) => ["avc", "vp9", "av1", "aac", "opus", "mp3"].includes(codec);
  const kind = (encodable, sound) => clipKind(encodable, sound, inMp4);
  assert.deepEqual(kind(["vp8", "vp9", "avc"], "aac"), { container: "mp4", codec: "avc", sound: true });
  assert.deepEqual(kind(["vp9"], "opus"), { container: "webm", codec: "vp9", sound: true });
  assert.deepEqual(kind(["vp9"], "aac"), { container: "mp4", codec: "vp9", sound: true });
  assert.deepEqual(kind(["avc", "vp8"], "vorbis"), { container: "webm", codec: "vp8", sound: true });
  assert.deepEqual(kind(["vp9"], null), { container: "webm", codec: "vp9", sound: false });
  assert.deepEqual(kind(["avc"], "unknown"), { container: "mp4", codec: "avc", sound: false });
  assert.equal(kind([], null), null);
});
