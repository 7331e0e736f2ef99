// A clip plays through the look, and at rest its frame is a picture like any other.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { choose, clickButton, closeSave, notice, notices, ready, settled, shownPixels, type } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { allKept } from "./kept.mjs";
import { decode, encode16 } from "./png.mjs";
import { unzip } from "./zip.mjs";

const SIZE = { width: 320, height: 180 };
const NAME = "patch_rec709.webm";
const FRAMES = 48;
const RATE = 24;
/** 8-bit codes of the left half, and of frame 0's right half, which gets lighter by 3 each frame. */
const PATCH = [150, 96, 70];
const FIRST = 40;

/** @returns {number[]} */
const codeAt = (number, x) => (x < SIZE.width / 2 ? PATCH : [0, 0, 0].map(() => FIRST + 3 * number));

/** Tests that need nothing but the open clip. */
const CLIP = { group: "clip" };

/** The clip's file: VP9, tagged as Rec.709, at so high a quality that codes survive; with a tone. */
async function clip(session) {
  const path = join(session.scratch, NAME);
  const { width, height } = SIZE;
  const raw = Buffer.alloc(FRAMES * width * height * 3);
  for (let i = 0; i < raw.length / 3; i += 1) raw.set(codeAt(Math.floor(i / (width * height)), i % width), 3 * i);
  const tags = ["-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709", "-color_range", "tv"];
  const from = ["-f", "rawvideo", "-pix_fmt", "rgb24", "-s", `${width}x${height}`, "-r", `${RATE}`, "-i", "-", "-f", "lavfi", "-t", `${FRAMES / RATE}`, "-i", "sine=sample_rate=48000"];
  const filter = ["-vf", "scale=out_color_matrix=bt709:out_range=tv:flags=accurate_rnd+full_chroma_int", "-pix_fmt", "yuv420p"];
  const codec = ["-c:v", "libvpx-vp9", "-crf", "4", "-b:v", "0", "-deadline", "realtime", "-cpu-used", "8", "-c:a", "libopus"];
  execFileSync("ffmpeg", ["-v", "error", "-y", ...from, ...filter, ...codec, ...tags, path], { input: raw });
  return { name: NAME, bytes: await readFile(path) };
}

async function open(session) {
  await ready(session);
  const pane = `.pane[aria-label="Picture ${NAME}"]`;
  if (!(await session.page.$(pane))) await session.drop("body", await clip(session));
  await session.page.waitForSelector(pane);
  await settled(session);
}

const place = (session) => session.page.$eval(".clip-place", (it) => it.textContent);
const frameNumber = async (session) => Number(/frame (\d+) of/.exec(await place(session))[1]);

/** Presses a button of the transport and waits for its frame to come to rest. */
async function press(session, label) {
  const before = await place(session);
  await session.page.click(`.transport [aria-label="${label}"]`);
  await session.page.waitForFunction((old) => document.querySelector(".clip-place").textContent !== old, {}, before);
  await settled(session);
}

/** Mean code of a part of the picture: grain is in it, and goes out. */
function mean({ width, height, pixels }, fromX, toX) {
  const sum = [0, 0, 0];
  let count = 0;
  for (let y = Math.floor(height * 0.3); y < height * 0.7; y += 1) {
    for (let x = Math.floor(width * fromX); x < width * toX; x += 1) {
      for (let c = 0; c < 3; c += 1) sum[c] += pixels[4 * (y * width + x) + c];
      count += 1;
    }
  }
  return sum.map((it) => it / count);
}

const left = (shown) => mean(shown, 0.1, 0.4);
const right = (shown) => mean(shown, 0.6, 0.9);

function near(found, expected, tolerance, what) {
  const apart = Math.max(...found.map((it, i) => Math.abs(it - expected[i])));
  assert.ok(apart <= tolerance, `${what}: ${found} instead of ${expected}`);
}

async function playing(session, is) {
  await session.page.waitForSelector(`.transport [aria-label="${is ? "Pause" : "Play"}"]`);
  if (!is) await settled(session);
}

inEachBrowser("a clip at rest is what the same picture would be", async (session) => {
  await open(session);
  assert.equal(await place(session), `0.00 s, frame 1 of ${FRAMES}`);
  const shown = await shownPixels(session, "after");
  const png = encode16(SIZE.width, SIZE.height, (x) => codeAt(0, x).map((code) => code / 255));
  await session.drop("body", { name: "patch_rec709.png", bytes: png });
  await session.page.waitForSelector('.pane[aria-label="Picture patch_rec709.png"]');
  await settled(session);
  assert.equal(await session.page.$eval(".transport", (it) => it.hidden), true);
  const picture = await shownPixels(session, "after");
  // 8-bit Y'CbCr and the codec move codes by one or two, and the look's contrast by more.
  near(left(shown), left(picture), 4, "the coloured half");
  near(right(shown), right(picture), 4, "the grey half");
});

inEachBrowser("a clip plays through the look, and pauses on the exact picture", async (session) => {
  await open(session);
  const rested = await shownPixels(session, "after");
  await session.page.focus(".pane");
  await session.page.keyboard.press(" ");
  await playing(session, true);
  const seen = new Set();
  for (let i = 0; i < 12; i += 1) {
    await sleep(130);
    const shown = await shownPixels(session, "after");
    seen.add(Math.round(right(shown)[1]));
    near(left(shown), left(rested), 3, "the coloured half as it plays");
  }
  assert.ok(seen.size > 3, `codes seen: ${[...seen]}`);
  assert.match(await session.page.$eval(".clip-pace", (it) => it.textContent), /^(\d+ of )?24 frames\/s/);
  // A control moved meanwhile shows at once.
  await type(session, "scan", "contrast", "Pivot", 430);
  const moved = async () => Math.abs(left(await shownPixels(session, "after"))[0] - left(rested)[0]);
  for (let tries = 0; tries < 50 && (await moved()) <= 4; tries += 1) await sleep(100);
  assert.ok((await moved()) > 4);
  await session.page.focus(".pane");
  await session.page.keyboard.press(" ");
  await playing(session, false);

  const number = await frameNumber(session);
  const paused = await shownPixels(session, "after");
  await press(session, "One frame forward");
  assert.equal(await frameNumber(session), (number % FRAMES) + 1);
  const next = await shownPixels(session, "after");
  assert.notDeepEqual(next.pixels, paused.pixels);
  await press(session, "One frame back");
  assert.equal(await frameNumber(session), number);
  assert.deepEqual((await shownPixels(session, "after")).pixels, paused.pixels);

  // And the session brings the same frame back.
  await allKept(session.page);
  await session.page.reload();
  await ready(session);
  await settled(session);
  assert.equal(await frameNumber(session), number);
  assert.deepEqual((await shownPixels(session, "after")).pixels, paused.pixels);
});

inEachBrowser("the slider goes to a frame, and grain moves from frame to frame", async (session) => {
  await open(session);
  const go = async (number) => {
    await session.page.$eval(
      ".clip-slider",
      (slider, to) => {
        slider.value = String(to);
        for (const kind of ["input", "change"]) slider.dispatchEvent(new Event(kind, { bubbles: true }));
      },
      number,
    );
    await session.page.waitForFunction((words) => document.querySelector(".clip-place")?.textContent.includes(words), {}, `frame ${number + 1} of`);
    await session.page.waitForFunction(() => document.querySelector(".clip-pace").textContent !== "");
    await settled(session);
    return shownPixels(session, "after");
  };
  const [ten, eleven, again] = [await go(10), await go(11), await go(10)];
  assert.ok(right(eleven)[1] > right(ten)[1] + 0.5, "the grey half gets lighter");
  // The coloured half is the same in every frame: what differs is grain.
  const grain = ({ width, pixels }) => Array.from({ length: 60 }, (_, i) => pixels[4 * (40 * width + 20 + i)]);
  assert.notDeepEqual(grain(ten), grain(eleven));
  assert.deepEqual(again.pixels, ten.pixels);
  const words = await session.page.$eval(".clip-slider", (it) => it.getAttribute("aria-valuetext"));
  assert.equal(words, `${(10 / RATE).toFixed(2)} s, frame 11 of ${FRAMES}`);
}, CLIP);

inEachBrowser("what is saved of a clip is the frame that is shown, with its grain", async (session) => {
  await open(session);
  await press(session, "One frame forward");
  const shown = await shownPixels(session, "after");
  await session.page.click(".pill-lit");
  await session.page.waitForSelector("dialog[open]");
  await choose(session, "PNG 16");
  await clickButton(session, "dialog[open]", "Save picture");
  const { width, height, codes } = decode((await session.downloads.next(/\.png$/)).bytes);
  assert.deepEqual([width, height], [shown.width, shown.height]);
  for (let i = 0; i < codes.length; i += 1) {
    const code = shown.pixels[Math.floor(i / 3) * 4 + (i % 3)];
    // Rounded to 16 bits and then to 8, a code may tip over.
    assert.ok(Math.abs(code - Math.round(codes[i] / 257)) <= 1, `number ${i}: ${code}, saved ${codes[i] / 257}`);
  }
  await closeSave(session);
}, CLIP);

/** What Debian's ffmpeg makes of a clip: its frames, decoded and counted, and the digest of its sound as it is packed. */
function read(path) {
  const entries = "stream=codec_type,codec_name,width,height,avg_frame_rate,nb_read_frames,sample_rate,color_space,color_transfer,color_primaries,color_range";
  const { streams } = JSON.parse(execFileSync("ffprobe", ["-v", "error", "-count_frames", "-show_entries", entries, "-of", "json", path]));
  const [video, audio] = ["video", "audio"].map((kind) => streams.find(({ codec_type: type }) => type === kind));
  const sound = execFileSync("ffmpeg", ["-v", "error", "-i", path, "-map", "0:a", "-c", "copy", "-f", "streamhash", "-hash", "md5", "-"]).toString();
  const convert = ["-sws_flags", "accurate_rnd+full_chroma_int", "-f", "rawvideo", "-pix_fmt", "rgba", "-"];
  const pixels = execFileSync("ffmpeg", ["-v", "error", "-i", path, ...convert], { maxBuffer: 1 << 28 });
  const bytes = 4 * SIZE.width * SIZE.height;
  return { video, audio, sound, frame: (number) => ({ ...SIZE, pixels: pixels.subarray(number * bytes, (number + 1) * bytes) }) };
}

inEachBrowser("a clip is saved through the look as a clip, frame for frame, with its sound", async (session) => {
  await open(session);
  const { page } = session;
  const number = (await frameNumber(session)) - 1;
  const shown = await shownPixels(session, "after");
  await page.evaluate(() => dispatchEvent(new KeyboardEvent("keydown", { key: "S", shiftKey: true })));
  await page.waitForSelector(".batch[open]");
  await page.$$eval(".batch-rows li", (all, name) => all.filter((it) => !it.textContent.startsWith(name)).forEach((it) => document.querySelectorAll(".batch-rows li")[all.indexOf(it)].querySelector("input").click()), NAME.replace(/\..*/, ""));
  await page.select('.batch select[aria-label="Clips"]', "clip");
  const [, expected] = await (await page.waitForFunction(() => /About (\d+) kB\. Clips/.exec(document.querySelector(".batch-options > p")?.textContent))).jsonValue();
  const saved = () => page.waitForFunction(() => /^1 of 1 saved/.test(document.querySelector(".batch [role=status]")?.textContent));
  await clickButton(session, ".batch", "Save as a zip");
  await saved();
  const [[name, bytes]] = unzip((await session.downloads.next(/\.zip$/)).bytes);
  assert.ok(bytes.length / 1000 < 2 * expected && bytes.length / 1000 > expected / 2, `${expected} kB were expected, and came to ${bytes.length}`);
  const [path, source] = [join(session.scratch, name), join(session.scratch, NAME)];
  await writeFile(path, bytes);
  const [made, was] = [read(path), read(source)];
  assert.deepEqual([made.video.width, made.video.height, Number(made.video.nb_read_frames), made.video.avg_frame_rate], [SIZE.width, SIZE.height, FRAMES, `${RATE}/1`]);
  // ITU-T H.273's names for what the numbers are.
  assert.deepEqual([made.video.color_space, made.video.color_transfer, made.video.color_primaries, made.video.color_range], ["bt709", "bt709", "bt709", "tv"]);
  assert.deepEqual([made.audio.codec_name, made.audio.sample_rate, made.sound], [was.audio.codec_name, was.audio.sample_rate, was.sound]);
  // A code of Y'CbCr is two of red or blue, and encoding moves it by one.
  for (const part of [left, right]) near(part(made.frame(number)), part(shown), 4, `frame ${number}`);
  assert.ok(right(made.frame(FRAMES - 1))[1] > right(made.frame(0))[1] + 20, "frames follow each other");

  // Into a folder it is written as it comes: never more than a few megabytes at once, and parts of it twice.
  await page.evaluate(async () => {
    const root = await navigator.storage.getDirectory();
    const folder = await root.getDirectoryHandle("clips", { create: true });
    window.showDirectoryPicker = async () => folder;
    document.querySelector(".batch-pattern").dispatchEvent(new Event("input"));
  });
  await clickButton(session, ".batch", "Save into a folder");
  await saved();
  const text = await page.evaluate(async (wanted) => {
    const file = await (await (await window.showDirectoryPicker()).getFileHandle(wanted)).getFile();
    const data = new Uint8Array(await file.arrayBuffer());
    let letters = "";
    for (let i = 0; i < data.length; i += 8192) letters += String.fromCharCode(...data.subarray(i, i + 8192));
    return btoa(letters);
  }, name);
  await writeFile(path, Buffer.from(text, "base64"));
  const streamed = read(path);
  assert.deepEqual([streamed.video.nb_read_frames, streamed.video.codec_name, streamed.sound], [made.video.nb_read_frames, made.video.codec_name, made.sound]);
  await page.keyboard.press("Escape");
}, CLIP);

inEachBrowser("a clip that the browser can't decode gets one sentence, and nothing is lost", async (session) => {
  await open(session);
  const readyTiles = (all) => all.filter((it) => it.dataset.stage === "ready").length;
  const count = await session.page.$$eval(".reel-list li", readyTiles);
  const whole = (await clip(session)).bytes;
  for (const [name, bytes] of [["holiday.mp4", Buffer.from("not a clip")], ["cut.webm", whole.subarray(0, 200)]]) {
    await session.drop("body", { name, bytes });
    const sentence = await notice(session, new RegExp(`^${name.replace(".", "\\.")}: `));
    assert.match(sentence, /can't decode the clip; export it as H\.264 MP4, or as an image sequence/);
  }
  assert.equal(await session.page.$$eval(".reel-list li", readyTiles), count);
  assert.match(await session.page.$eval(".pane", (it) => it.getAttribute("aria-label")), /patch_rec709\.webm$/);
  await session.page.click('.transport [aria-label="Play"]');
  await playing(session, true);
  assert.ok((await notices(session)).length > 0);
  await session.page.click('.transport [aria-label="Pause"]');
  await playing(session, false);
}, CLIP);

for (const [words, options] of [["on a desktop", CLIP], ["on a phone", { viewport: PHONE }]]) {
  inOneBrowser(
    `axe finds nothing with a clip, at rest and playing, ${words}`,
    async (session) => {
      await open(session);
      assert.deepEqual(await session.accessibilityFaults(), []);
      await session.page.$eval('.transport [aria-label="Play"]', (it) => it.click());
      await playing(session, true);
      await session.page.waitForFunction(() => /frames\/s/.test(document.querySelector(".clip-pace")?.textContent));
      assert.deepEqual(await session.accessibilityFaults(".transport"), []);
      const { wide, room } = await session.page.evaluate(() => ({ wide: document.documentElement.scrollWidth, room: innerWidth }));
      assert.ok(wide <= room, `${wide} of ${room} px`);
    },
    options,
  );
}
