// What large photographs do to the page. By hand, with a folder of photographs of 12 MP and more:
//
//     node large.mjs [browser] clicks FOLDER [how many]   random clicks, 20 to 1,000 ms apart
//     node large.mjs [browser] many FOLDER [how many]     dropped at once: memory, kept, a restart
//     node large.mjs [browser] cancel FOLDER [how many]   how long it takes to give up an opening
import { link, mkdtemp, readdir, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { allTold, tiles, wander } from "./kept.mjs";
import { Machine, begun, leanPage } from "./runs/machine.mjs";
import { memoryOf } from "./runs/memory.mjs";
import { startServer } from "./server.mjs";

const [kind, what, folder, count] = process.argv.slice(2);
/** How often memory is looked at, in ms. */
const PACE = 500;

/** The largest file last. */
const photos = (await readdir(folder)).filter((name) => /\.(jpe?g|png|tiff?)$/i.test(name)).sort();
const bytes = new Map(await Promise.all(photos.map(async (name) => [name, (await stat(join(folder, name))).size])));
photos.sort((a, b) => bytes.get(a) - bytes.get(b));
const choose = async (page, paths) => (await page.$("#picker")).uploadFile(...paths);
const chosen = (page, name) => page.waitForFunction((it) => document.querySelector(".pane")?.getAttribute("aria-label") === `Picture ${it}`, { polling: 50, timeout: 600_000 }, name);

const SCENES = {
  async clicks(machine, clicks = 1000) {
    const page = await machine.open();
    await choose(page, photos.map((name) => join(folder, name)));
    const wrong = [];
    const internal = new Set();
    for (let done = 0; done < clicks; done += 40) {
      const result = await wander(page, { clicks: Math.min(40, clicks - done), least: 20, most: 1000, seed: done + 1 });
      wrong.push(...result.wrong);
      for (const words of await page.$$eval("#notices p, .reel-frame[title], .pane-words", (all) => all.map((it) => `${it.textContent} ${it.title}`))) {
        if (/not open here|undefined|null|NaN|\[object|Error:/.test(words)) internal.add(words);
      }
      console.log(`${done + 40} clicks, ${wrong.length} wrong, ${internal.size} internal messages`);
    }
    console.log({ clicks, wrong, internal: [...internal] });
  },

  async many(machine, frames = 200) {
    const scratch = await mkdtemp(join(tmpdir(), "lookwright-many-"));
    const paths = Array.from({ length: frames }, (_, i) => join(scratch, `f${String(i).padStart(3, "0")}.jpg`));
    await Promise.all(paths.map((path, i) => link(join(folder, photos[i % photos.length]), path)));
    const page = await machine.open();
    const before = await memoryOf(machine.browser.process().pid);
    let [most, over] = [0, false];
    const watch = (async () => {
      for (; !over; await sleep(PACE)) most = Math.max(most, await memoryOf(machine.browser.process().pid));
    })();
    const start = Date.now();
    await choose(page, paths);
    await page.waitForFunction((it) => document.querySelectorAll(".reel-list li").length > it, { polling: 100 }, frames);
    const named = Date.now() - start;
    // Asked again and again, as one question of the browser's protocol may not take minutes.
    const told = async () => (await tiles(page)).every(({ stage, kept }) => stage === "failed" || (stage === "ready" && kept !== "waiting"));
    while (!(await told())) await sleep(PACE);
    const read = Date.now() - start;
    const kept = await tiles(page);
    over = true;
    await watch;
    await sleep(15_000);
    const rest = await memoryOf(machine.browser.process().pid);
    await machine.kill();
    const again = Date.now();
    const next = await machine.open();
    const shown = Date.now() - again;
    const back = await tiles(next);
    const lost = kept.filter((tile) => tile.kept === "yes" && !back.some(({ name }) => name === tile.name));
    console.log({ frames, named_ms: named, read_s: read / 1000, kept: kept.filter((tile) => tile.kept === "yes").length, unkept: kept.filter((tile) => tile.kept === "no").length, failed: kept.filter((tile) => tile.stage === "failed").length, memory_MiB: { before, most, rest }, restored_ms: shown, back: back.length, lost });
    await rm(scratch, { recursive: true });
  },

  async cancel(machine, count = 20) {
    const page = await machine.open();
    const large = photos.at(-1);
    await choose(page, [photos[0], large].map((name) => join(folder, name)));
    await allTold(page);
    const took = [];
    for (let i = 0; i < count; i += 1) {
      await page.$eval(`.reel-frame[aria-label^="${photos[0]}"]`, (it) => it.click());
      await chosen(page, photos[0]);
      // Given up while it is being read or decoded, at any moment of that.
      const times = await page.evaluate(async (first, second, wait) => {
        const tile = (name) => [...document.querySelectorAll(".reel-list li")].find((it) => it.querySelector(".reel-frame").getAttribute("aria-label").startsWith(name));
        const [from, to] = [tile(first), tile(second)];
        from.querySelector(".reel-frame").click();
        await new Promise((resolve) => setTimeout(resolve, wait));
        if (from.dataset.stage !== "opening") return null;
        const begin = performance.now();
        // What the page itself waits for, on a machine that has other work: a timer as long as the page's own.
        const timer = new Promise((resolve) => setTimeout(() => resolve(performance.now() - begin), 60));
        to.querySelector(".reel-frame").click();
        const clicked = performance.now() - begin;
        const left = await new Promise((resolve) => {
          new MutationObserver((_, observer) => {
            if (from.dataset.stage === "opening") return;
            observer.disconnect();
            resolve(performance.now() - begin);
          }).observe(from, { attributes: true });
        });
        return [left, clicked, await timer].map(Math.round);
      }, large, photos[0], 20 + (i * 37) % 300);
      if (times !== null) took.push(times);
    }
    const sorted = (at) => took.map((it) => it[at]).sort((a, b) => a - b);
    console.log({ given_up: took.length, of: count, ms: sorted(0), click_ms: sorted(1), timer_60_ms: sorted(2) });
  },
};

const lean = await leanPage();
const server = await startServer(lean);
const machine = await Machine.make(kind, server.url, { limited: false });
try {
  await SCENES[what](machine, count === undefined ? undefined : Number(count));
} finally {
  await machine.end();
  await server.stop();
  await rm(lean, { recursive: true });
}
