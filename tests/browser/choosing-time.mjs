// How long choosing takes, and what it asks of a person: from dropping an unknown photo to a version that is kept.
// By hand, with a photo:
//
//     node choosing-time.mjs PHOTO             on a desk and on a phone: seconds, actions, pictures of the page
//     node choosing-time.mjs PHOTO wall 200    the wall opened so often: its times, and the browser's memory
//     node choosing-time.mjs PHOTO reel 200    the photo so often on the reel, saved as one zip of small JPEGs
import { mkdir, readFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { act, clickButton, notice, ready, settled } from "./desk.mjs";
import { DESKTOP, PHONE, Session, endAll } from "./harness.mjs";
import { memoryOf } from "./runs/memory.mjs";

const [path, what = "way", count = 200] = process.argv.slice(2);
if (!path) throw new Error("Name a photo.");
const PICTURES = fileURLToPath(new URL("../../target/choosing", import.meta.url));
/** How often memory is looked at. */
const EVERY = 20;

const seconds = (ms) => Number((ms / 1000).toFixed(2));

/** Until the wall stands: its first look, and all in view. */
async function wallDrawn({ page }, begin) {
  await page.waitForSelector(".look-cell canvas[data-drawn]");
  const first = seconds(performance.now() - begin);
  await page.waitForFunction(() => [...document.querySelectorAll(".look-cell:not([hidden])")].filter((it) => it.getBoundingClientRect().top < innerHeight).every((it) => it.querySelector("canvas[data-drawn]")));
  const view = seconds(performance.now() - begin);
  await page.waitForFunction(() => /^(\d+) of \1 /.test(document.querySelector(".wall [role=status]")?.textContent));
  return { first, view, all: seconds(performance.now() - begin), cells: await page.$$eval(".look-cell", (all) => all.length) };
}

/** From the drop to a kept version, with all that a person does on the way. */
async function way(name, viewport) {
  const session = await Session.open("chromium", { viewport });
  const { page } = session;
  let aside = 0;
  const keep = async (step) => {
    const begin = performance.now();
    await page.screenshot({ path: join(PICTURES, `${name}-${step}.png`) });
    aside += performance.now() - begin;
  };
  try {
    await ready(session);
    await settled(session);
    const begin = performance.now();
    const actions = ["drop the photo"];
    await session.drop("body", { name: basename(path), bytes: await readFile(path) });
    await page.waitForSelector(`.pane[aria-label="Picture ${basename(path)}"]`);
    await settled(session);
    const opened = seconds(performance.now() - begin);
    await notice(session, /every look/);
    await keep("1-dropped");
    actions.push("press Choose a look");
    const asked = performance.now();
    await page.evaluate(() => [...document.querySelectorAll(".notice button")].find((it) => it.textContent === "Choose a look").click());
    const wall = await wallDrawn(session, asked);
    await keep("2-wall");
    actions.push("press a look");
    const cell = (await page.$$(".look-cell:not([hidden])"))[2];
    await (viewport.hasTouch ? cell.tap() : cell.click());
    await page.waitForSelector("dialog[open]", { hidden: true });
    await settled(session);
    if (viewport.hasTouch) {
      actions.push("open the menu", "press Keep this version");
      await act(session, "keep this version");
    } else {
      actions.push("press N: keep this version");
      await page.keyboard.press("n");
    }
    await notice(session, /^Kept as version A/);
    console.log(name, { opened, wall, total: seconds(performance.now() - begin - aside), actions });
    await keep("3-kept");
  } finally {
    await session.close();
  }
}

/** Opens the wall again and again. */
async function wall(times) {
  const session = await Session.open("chromium", { viewport: DESKTOP });
  const { page } = session;
  try {
    await ready(session);
    await session.drop("body", { name: basename(path), bytes: await readFile(path) });
    await page.waitForSelector(`.pane[aria-label="Picture ${basename(path)}"]`);
    await settled(session);
    const { pid } = session.context.browser().process();
    const inspector = await page.createCDPSession();
    const memory = [];
    const drawn = [];
    for (let i = 1; i <= times; i += 1) {
      const begin = performance.now();
      await page.keyboard.press("w");
      drawn.push(await wallDrawn(session, begin));
      await page.keyboard.press("Escape");
      await page.waitForSelector("dialog[open]", { hidden: true });
      if (i > 1 && i % EVERY !== 0) continue;
      await inspector.send("HeapProfiler.collectGarbage");
      const { JSHeapUsedSize, Nodes } = await page.metrics();
      memory.push({ openings: i, MiB: await memoryOf(pid), heapMB: Number((JSHeapUsedSize / 1e6).toFixed(1)), nodes: Nodes });
    }
    const all = drawn.slice(1).map((it) => it.all).sort((a, b) => a - b);
    console.log({ first: drawn[0], later: { fastest: all[0], middle: all[all.length >> 1], slowest: all.at(-1) }, memory });
  } finally {
    await session.close();
  }
}

/** A reel of so many frames, saved at once. */
async function reel(frames) {
  const session = await Session.open("chromium", { viewport: DESKTOP });
  const { page } = session;
  try {
    await ready(session);
    const bytes = await readFile(path);
    await session.drop("body", ...Array.from({ length: frames }, (_, i) => ({ name: `frame ${String(i + 1).padStart(3, "0")}.jpg`, bytes })));
    await page.waitForFunction((count) => document.querySelectorAll('.reel-list li[data-stage="ready"]').length >= count, { timeout: 1_200_000 }, frames);
    await page.evaluate(() => dispatchEvent(new KeyboardEvent("keydown", { key: "S", shiftKey: true })));
    await page.waitForSelector(".batch[open]");
    await page.select('.batch select[aria-label="Size"]', "1080");
    const begin = performance.now();
    await clickButton(session, ".batch", "Save as a zip");
    await page.waitForFunction(() => document.querySelector(".batch progress")?.hidden && / saved into /.test(document.querySelector(".batch [role=status]")?.textContent), { timeout: 1_200_000 });
    const said = await page.$eval(".batch [role=status]", (it) => it.textContent);
    const { pid } = session.context.browser().process();
    const inspector = await page.createCDPSession();
    console.log({ frames, seconds: seconds(performance.now() - begin), said, MiB: await memoryOf(pid), zipMB: ((await session.downloads.next(/\.zip$/)).bytes.length / 1e6).toFixed(1) });
  } finally {
    await session.close();
  }
}

await mkdir(PICTURES, { recursive: true });
if (what === "wall") await wall(Number(count));
else if (what === "reel") await reel(Number(count));
else for (const [name, viewport] of [["desk", DESKTOP], ["phone", { ...PHONE, hasTouch: true, isMobile: true }]]) await way(name, viewport);
await endAll();
