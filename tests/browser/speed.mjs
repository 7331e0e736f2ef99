// How long the page takes, in Chromium: one line of JSON per figure on standard output, for
// `cargo xtask bench`. Times are taken in the page, from the event to the pixels on the canvas.
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { Session } from "./harness.mjs";
import { choose as chooseOption, clickButton, control, ready, settled, unfold } from "./desk.mjs";

const SIDE = "Chromium";
const DEMO = new URL("../../demo-images/", import.meta.url).pathname;

function figure(name, milliseconds, goal) {
  console.log(JSON.stringify({ side: SIDE, name, milliseconds, goal }));
}

/** In the page, before its own code: notes when pictures reach the "after" side and files leave. */
function watchPixels() {
  const seen = (globalThis.__seen = { shown: [], saved: [], chosen: 0 });
  const put = CanvasRenderingContext2D.prototype.putImageData;
  CanvasRenderingContext2D.prototype.putImageData = function (...given) {
    put.apply(this, given);
    if (this.canvas.matches(".side-after .preview")) {
      seen.shown.push({ at: performance.now(), width: this.canvas.width });
    }
  };
  const address = URL.createObjectURL;
  URL.createObjectURL = (blob) => {
    seen.saved.push(performance.now());
    return address.call(URL, blob);
  };
  addEventListener("change", () => (seen.chosen = performance.now()), { capture: true });
}

/** A page that watches its pixels, with its first picture. */
async function open(viewport) {
  const session = await Session.open("chromium", viewport ? { viewport } : {});
  await session.page.evaluateOnNewDocument(watchPixels);
  await session.page.reload({ waitUntil: "load" });
  await ready(session);
  await settled(session);
  return session;
}

/** Moves a slider again and again; gives the times until the moving picture, the first
 * one of full size at rest, and the exact one. */
async function drag(session, stage, step, label, from, to) {
  await unfold(session, stage, step);
  const { slider } = await control(session, stage, step, label);
  const times = await slider.evaluate(
    async (input, first, last) => {
      const { shown } = globalThis.__seen;
      const frame = () => new Promise(requestAnimationFrame);
      const pixels = async (begin, wide) => {
        for (;;) {
          const found = shown.find(({ at, width }) => at >= begin && wide(width));
          if (found) return found.at - begin;
          if (performance.now() - begin > 10_000) throw new Error("no picture came");
          await new Promise((resolve) => setTimeout(resolve, 0));
        }
      };
      const full = Math.max(...shown.map(({ width }) => width));
      const moving = [];
      const [resting, exact] = [[], []];
      for (let round = 0; round < 12; round += 1) {
        for (let i = 0; i < 10; i += 1) {
          await frame();
          const begin = performance.now();
          // Far enough from the last place to be another value.
          input.value = String(first + ((last - first) * (((round * 10 + i) * 37) % 120)) / 120);
          input.dispatchEvent(new Event("input", { bubbles: true }));
          moving.push(await pixels(begin, () => true));
        }
        const begin = performance.now();
        input.dispatchEvent(new Event("change", { bubbles: true }));
        resting.push(await pixels(begin, (width) => width === full));
        while (document.querySelector(".pane").getAttribute("aria-busy") !== "false") await frame();
        // The last of the pictures at rest is the exact one.
        exact.push(shown.at(-1).at - begin);
      }
      return { moving, resting, exact };
    },
    from,
    to,
  );
  return times;
}

/** A photograph of `width` by `height`, as a phone would save it. */
function photograph(folder, width, height) {
  const path = join(folder, `${(width * height) / 1e6} MP.jpg`);
  const filter = `scale=${width}:${height},noise=alls=8:all_seed=1`;
  const source = join(DEMO, "visitor.jpg");
  execFileSync("ffmpeg", ["-v", "error", "-y", "-i", source, "-vf", filter, "-q:v", "3", path]);
  return path;
}

/** Opens a photograph from the disk; gives the time to its first picture. */
async function choose(session, path) {
  await session.page.evaluate(() => (globalThis.__seen.shown.length = 0));
  await session.choose("#picker", path);
  const name = path.split("/").at(-1);
  await session.page.waitForSelector(`.pane[aria-label="Picture ${name}"]`);
  const first = await session.page.waitForFunction(() => {
    const { shown, chosen } = globalThis.__seen;
    const found = shown.find(({ at }) => at > chosen);
    return found && found.at - chosen;
  });
  await settled(session);
  return first.jsonValue();
}

/** Saves the picture as JPEG, `pause` ms after its dialog is open; gives the time from the press to the file. */
async function save(session, pause = 0) {
  await session.page.click(".pill-lit");
  await session.page.waitForSelector("dialog[open]");
  await chooseOption(session, "JPEG");
  await new Promise((resolve) => setTimeout(resolve, pause));
  const begin = await session.page.evaluate(() => {
    globalThis.__seen.saved.length = 0;
    return performance.now();
  });
  await clickButton(session, "dialog[open]", "Save picture");
  await session.downloads.next(/\.jpe?g$/, 240_000);
  const end = await session.page.evaluate(() => globalThis.__seen.saved.at(-1));
  await session.page.evaluate(() => document.querySelector("dialog[open]")?.close());
  return end - begin;
}

/** Of each of the browser's pages, what the kernel says of its memory: kilobytes by name. */
function memoryOfPages() {
  return readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .flatMap((process) => {
      try {
        if (!readFileSync(`/proc/${process}/cmdline`, "utf8").includes("--type=renderer")) return [];
        const words = readFileSync(`/proc/${process}/status`, "utf8").matchAll(/^(\w+):\s+(\d+) kB$/gm);
        return [Object.fromEntries([...words].map(([, name, kilobytes]) => [name, Number(kilobytes)]))];
      } catch {
        return []; // it has ended meanwhile
      }
    });
}

/** Does `work`; gives the most memory that a page held meanwhile, in MB: what is its own, and what
 * is resident in all, to which the browser's program file belongs that its processes share. */
async function mostMemory(work) {
  let own = 0;
  const look = () => {
    for (const { RssAnon = 0, RssShmem = 0 } of memoryOfPages()) own = Math.max(own, RssAnon + RssShmem);
  };
  const watch = setInterval(look, 25);
  try {
    await work();
    look();
  } finally {
    clearInterval(watch);
  }
  const resident = Math.max(...memoryOfPages().map(({ VmHWM = 0 }) => VmHWM));
  return { own: own / 1000, resident: resident / 1000 };
}

function memory(name, megabytes, goal) {
  console.log(JSON.stringify({ side: SIDE, name, megabytes, goal }));
}

async function start() {
  const session = await open();
  const times = [];
  for (let i = 0; i < 7; i += 1) {
    await session.page.reload({ waitUntil: "load" });
    await ready(session);
    times.push(await session.page.evaluate(() => globalThis.__seen.shown[0].at));
    await settled(session);
  }
  figure("page opened to first demo picture, warm cache", times, 500);
  await session.close();
}

async function moving() {
  const session = await open({ width: 1900, height: 1200, deviceScaleFactor: 1 });
  const widest = await session.page.evaluate(() => Math.max(...globalThis.__seen.shown.map(({ width }) => width)));
  const slope = await drag(session, "scan", "contrast", "Slope", 3000, 6000);
  figure(`scan's slope dragged, picture of up to ${widest} px`, slope.moving, 16);
  figure(`scan's slope at rest, exact picture of ${widest} px`, slope.exact);
  const push = await drag(session, "negative", "development", "Push", 3000, 6000);
  figure(`negative's push dragged, all texture, picture of ${widest / 2} px`, push.moving, 16);
  figure(`negative's push at rest, all texture, picture of ${widest} px`, push.resting, 40);
  figure(`negative's push at rest, all texture, exact picture of ${widest} px`, push.exact);
  await session.close();
}

async function photographs() {
  const session = await open();
  const twelve = photograph(session.scratch, 4000, 3000);
  const [opened, saved, savedLater] = [[], [], []];
  for (let i = 0; i < 7; i += 1) {
    opened.push(await choose(session, twelve));
    saved.push(await save(session));
    savedLater.push(await save(session, 1000));
  }
  figure("12 MP JPEG opened, to its first picture", opened, 700);
  figure("12 MP saved as JPEG, all texture on, asked for at once", saved, 1500);
  figure("the same, asked for a second after the dialog opened", savedLater, 1500);
  await session.close();

  const large = await open();
  const fortyEight = photograph(large.scratch, 8000, 6000);
  const most = await mostMemory(async () => {
    figure("48 MP JPEG opened, to its first picture", [await choose(large, fortyEight)]);
    figure("48 MP saved as JPEG, all texture on, asked for at once", [await save(large)]);
  });
  memory("most memory of the page's own with 48 MP", most.own, 1074);
  memory("most memory resident with 48 MP, the browser's program file among it", most.resident);
  await large.close();
}

/** Plays a 1080p clip; gives what reached the screen. */
async function clip() {
  for (const viewport of [undefined, { width: 1900, height: 1200, deviceScaleFactor: 1 }]) {
    const session = await open(viewport);
    const path = join(session.scratch, "visitor.mp4");
    const source = join(DEMO, "visitor.jpg");
    const filter = "scale=3840:-2,zoompan=z='1+0.0005*on':d=400:s=1920x1080:fps=24,format=yuv420p";
    execFileSync("ffmpeg", ["-v", "error", "-y", "-loop", "1", "-i", source, "-vf", filter, "-frames:v", "400", "-c:v", "libx264", path]);
    await session.choose("#picker", path);
    await session.page.waitForSelector('.pane[aria-label="Picture visitor.mp4"]');
    await settled(session);
    const full = await session.page.evaluate(() => globalThis.__seen.shown.at(-1).width);
    await session.page.click('.transport [aria-label="Play"]');
    // The size is found out first. The clip is long enough not to begin again meanwhile: browsers
    // take some frames' time for that.
    await new Promise((resolve) => setTimeout(resolve, 5000));
    const seconds = 8;
    const shown = await session.page.evaluate(async (ms) => {
      const { shown } = globalThis.__seen;
      shown.length = 0;
      await new Promise((resolve) => setTimeout(resolve, ms));
      return shown;
    }, 1000 * seconds);
    const sizes = [...new Set(shown.map(({ width }) => width))].sort((a, b) => a - b).join(" and ");
    const words = `clip of 1080p and 24 frames/s, all texture, at ${sizes} px where the preview has ${full} px`;
    console.log(JSON.stringify({ side: SIDE, name: words, framesPerSecond: shown.length / seconds, goal: 24 }));
    const gaps = shown.slice(1).map(({ at }, i) => at - shown[i].at);
    figure(`from frame to frame of it, at ${sizes} px`, gaps);
    await session.close();
  }
}

// Within a test, so that browsers and servers end with it.
test("speed", async () => {
  const wanted = process.argv.slice(2);
  for (const part of [start, moving, photographs, clip]) {
    if (wanted.length === 0 || wanted.includes(part.name)) await part();
  }
});
