// Many runs over all that may take work away: a killed browser, a full store, two tabs, links, the
// first release's store, a record that this release does not know. A loss counts if the page had
// said that what is lost was kept. By hand: node runs.mjs [runs] [browser]; the first few run
// with the tests.
import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import puppeteer from "puppeteer-core";
import { control, ready, type, unfold } from "./desk.mjs";
import { DESKTOP } from "./harness.mjs";
import { drop } from "./files.mjs";
import { allKept, allTold, colourOf, keptStore, tiles } from "./kept.mjs";
import { KINDS, optionsFor } from "./launch.mjs";
import { flat8, noise8 } from "./png.mjs";
import { startServer } from "./server.mjs";

const PAGE = process.env.LOOKWRIGHT_DIST ?? fileURLToPath(new URL("../../web/dist", import.meta.url));

/** One browser with a profile of its own, which outlives it. */
class Machine {
  static async make(kind, url) {
    const machine = new Machine();
    machine.scratch = await mkdtemp(join(tmpdir(), `lookwright-runs-${kind}-`));
    Object.assign(machine, { kind, url });
    for (const name of ["profile", "downloads"]) await mkdir(join(machine.scratch, name));
    await machine.start();
    return machine;
  }

  async start() {
    this.browser = await puppeteer.launch(optionsFor(this.kind, join(this.scratch, "profile"), join(this.scratch, "downloads")));
  }

  async open(hash = "") {
    const page = await this.browser.newPage();
    page.setDefaultTimeout(120_000);
    page.on("dialog", (dialog) => dialog.accept().catch(() => {}));
    await page.setViewport(DESKTOP);
    await page.goto(this.url + hash);
    await ready({ page });
    return page;
  }

  /** Ends the browser at once, by its process's id. */
  async kill() {
    const child = this.browser.process();
    const ended = new Promise((resolve) => child.once("exit", resolve));
    process.kill(child.pid, "SIGKILL");
    await ended;
    await sleep(100);
  }

  async end() {
    await this.browser.close().catch(() => {});
    await rm(this.scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}

const slope = async (page) => {
  await unfold({ page }, "scan", "contrast");
  return (await control({ page }, "scan", "contrast", "Slope")).number.evaluate((it) => it.value);
};
const setSlope = (page, value) => type({ page }, "scan", "contrast", "Slope", value);
const names = async (page) => (await tiles(page)).map(({ name }) => name);
const undos = (page) => page.$eval('[aria-label="Undo"]', (it) => Number(/(\d+) kept/.exec(it.title)[1]));

/** What there is, and what of it the page says is kept. */
async function told(page) {
  const whole = await page.$eval(".unkept", (it) => it.hidden);
  return { whole, slope: await slope(page), undos: await undos(page), frames: (await tiles(page)).filter(({ kept }) => kept === "yes").map(({ name }) => name) };
}

/** What is missing of what was said to be kept. */
async function losses(page, before) {
  const lost = [];
  const there = await names(page);
  for (const name of before.frames) if (!there.includes(name)) lost.push(`frame ${name}`);
  if (before.whole && (await slope(page)) !== before.slope) lost.push(`slope ${before.slope}, now ${await slope(page)}`);
  if (before.whole && (await undos(page)) < before.undos) lost.push(`${before.undos} steps, now ${await undos(page)}`);
  const trouble = await page.$("dialog.trouble[open]");
  if (trouble) lost.push("the session could not be read");
  return lost;
}

const random = (seed) => {
  let state = seed;
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
};
const frame = (i) => ({ name: `c${i}.png`, bytes: flat8(200, 120, colourOf(i)) });

/** Each gives a list of what was lost although it was said to be kept. */
const SCENES = {
  async kill(machine, chance) {
    const page = await machine.open();
    const count = Math.floor(chance() * 4);
    if (count > 0) await drop(page, "body", ...Array.from({ length: count }, (_, i) => frame(i)));
    if (chance() < 0.5) await allTold(page);
    for (let i = 0; i < 1 + chance() * 4; i += 1) {
      await setSlope(page, (1 + 2.9 * chance()).toFixed(2));
      await sleep(chance() * 200);
    }
    const before = await told(page);
    await machine.kill();
    await machine.start();
    const after = await machine.open();
    const lost = await losses(after, before);
    await after.close();
    return lost;
  },

  async leave(machine, chance) {
    const page = await machine.open();
    await setSlope(page, (1 + 2.9 * chance()).toFixed(2));
    await allKept(page);
    const value = (1 + 2.9 * chance()).toFixed(2);
    await setSlope(page, value);
    await sleep(chance() * 60);
    await page.reload();
    await ready({ page });
    const now = await slope(page);
    await page.close();
    return now === value ? [] : [`slope ${value} at leaving, now ${now}`];
  },

  async unread(machine, chance) {
    const page = await machine.open();
    await drop(page, "body", frame(Math.floor(chance() * 200)));
    await setSlope(page, (1 + 2.9 * chance()).toFixed(2));
    await allKept(page);
    const whole = await keptStore(page);
    await page.goto(`${machine.url}icon.svg`);
    const altered = structuredClone(whole);
    const ways = [
      ({ record }) => (record.record = 7),
      ({ record }) => (record.base.look = { lookwright: 1, scan: { contrast: { slant: 1 } } }),
      ({ record }) => (record.base.delivery = { display: { display: "screen-9" } }),
      ({ steps }) => steps.pop(),
      ({ record }) => delete record.view,
      ({ record }) => (record.frames[0].url = "/demo/gone.png"),
    ];
    const way = Math.floor(chance() * ways.length);
    ways[way](altered);
    await keptStore(page, altered);
    await page.goto(machine.url);
    await ready({ page });
    const said = (await page.$("dialog.trouble[open]")) !== null;
    const lost = way < 4 && !said ? [`alteration ${way} was not said`] : [];
    if (!said && (await slope(page)) !== String(whole.steps.at(-1).change.look.scan.contrast.slope.toFixed(2))) lost.push(`alteration ${way}: the slope is gone`);
    // Whatever is done, all of it is still there.
    const stays = await page.evaluate(
      (id) =>
        new Promise((resolve) => {
          const open = indexedDB.open("lookwright");
          open.onsuccess = () => {
            const get = open.result.transaction("sessions").objectStore("sessions").get(id);
            get.onsuccess = () => (open.result.close(), resolve(get.result !== undefined));
          };
        }),
      whole.record.id,
    );
    if (!stays) lost.push(`alteration ${way}: the record is gone`);
    await page.evaluate(() => indexedDB.deleteDatabase("lookwright"));
    await page.close();
    return lost;
  },

  async tabs(machine, chance) {
    const [one, two] = [await machine.open(), await machine.open()];
    await drop(one, "body", frame(Math.floor(chance() * 200)));
    await setSlope(one, (1 + 2.9 * chance()).toFixed(2));
    await setSlope(two, (1 + 2.9 * chance()).toFixed(2));
    await drop(two, "body", frame(200));
    for (const page of [one, two]) await allKept(page);
    if (chance() < 0.5) await two.$eval(".reel-away", (it) => it.click());
    await allKept(two);
    const before = [await told(one), await told(two)];
    const lost = [];
    for (const [i, page] of [one, two].entries()) {
      await page.reload();
      await ready({ page });
      lost.push(...(await losses(page, before[i])));
    }
    await Promise.all([one.close(), two.close()]);
    return lost;
  },

  async quota(machine, chance) {
    const page = await machine.open();
    const room = Math.floor(chance() * 400_000);
    await page.evaluate((more) => (navigator.storage.estimate = async () => ({ quota: (16 << 20) + more, usage: 0 })), room);
    await drop(page, "body", ...Array.from({ length: 3 }, (_, i) => ({ name: `n${i}.png`, bytes: noise8(200 + 100 * i, 300, i) })));
    await allTold(page);
    const before = await told(page);
    const unsaid = (await tiles(page)).filter(({ kept }) => !["yes", "no", "demo"].includes(kept)).map(({ name }) => `${name} says nothing`);
    await page.reload();
    await ready({ page });
    const lost = await losses(page, before);
    await page.close();
    return [...unsaid, ...lost];
  },

  async link(machine, chance) {
    const page = await machine.open();
    await setSlope(page, (1 + 2.9 * chance()).toFixed(2));
    await page.waitForFunction(() => location.hash.length > 40);
    await sleep(600);
    const hash = await page.evaluate(() => location.hash);
    await setSlope(page, (1 + 2.9 * chance()).toFixed(2));
    await allKept(page);
    const before = await told(page);
    const tails = ["", "&utm=1", "==", "x".repeat(5)];
    const tail = tails[Math.floor(chance() * tails.length)];
    if (chance() < 0.5) await page.evaluate((it) => void (location.hash = it), hash + tail);
    else {
      await page.goto("about:blank");
      await page.goto(machine.url + hash + tail);
      await ready({ page });
    }
    await sleep(200);
    const lost = await losses(page, before);
    await page.close();
    return lost;
  },
};

/**
 * @param {string} kind one of KINDS
 * @param {number} runs
 * @param {(line: string) => void} [say]
 * @returns {Promise<Record<string, {runs: number, lost: string[]}>>}
 */
export async function run(kind, runs, say = () => {}) {
  const server = await startServer(PAGE);
  const table = {};
  let machine = await Machine.make(kind, server.url);
  try {
    for (let i = 0; i < runs; i += 1) {
      const scene = Object.keys(SCENES)[i % Object.keys(SCENES).length];
      table[scene] ??= { runs: 0, lost: [] };
      let lost;
      try {
        lost = await SCENES[scene](machine, random(i + 1));
      } catch (error) {
        lost = [`the run broke off: ${error.message}`];
        await machine.end();
        machine = await Machine.make(kind, server.url);
      }
      table[scene].runs += 1;
      table[scene].lost.push(...lost.map((what) => `run ${i}: ${what}`));
      say(`${kind} ${i} ${scene}: ${lost.length === 0 ? "nothing lost" : lost.join("; ")}`);
    }
  } finally {
    await machine.end();
    await server.stop();
  }
  return table;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const runs = Number(process.argv[2] ?? 12);
  for (const kind of KINDS.filter((it) => !process.argv[3] || it === process.argv[3])) {
    console.table(await run(kind, runs, console.log));
  }
  process.exit(0);
}
