// All that may take work away, each as a scene with chance in it. A scene gives a list of what was
// lost although the page had said that it was kept.
import { setTimeout as sleep } from "node:timers/promises";
import { deflateRawSync } from "node:zlib";
import { drop } from "../files.mjs";
import { allKept, allTold, colourOf, firstRelease, keptStore } from "../kept.mjs";
import { flat8, padded } from "../png.mjs";
import { begun, reloaded } from "./machine.mjs";
import { losses, setSlope, told } from "./told.mjs";

const frame = (i) => ({ name: `c${i}.png`, bytes: flat8(60, 40, colourOf(i)) });
/** As long as asked, and quick to decode. */
const long = (i, bytes) => ({ name: `n${i}.png`, bytes: padded(flat8(60, 40, colourOf(i)), bytes) });

/** Chances of a run: the same for the same seed. */
export function chancesOf(seed) {
  let state = Math.imul(seed + 1, 2654435761) >>> 0;
  const share = () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
  for (let i = 0; i < 4; i += 1) share();
  return {
    share,
    upTo: (most) => Math.floor(share() * (most + 1)),
    one: (all) => all[Math.floor(share() * all.length)],
    slope: () => Math.round(100 * (1 + 2.9 * share())) / 100,
  };
}

/** The address's end of a look, as the page writes it: base64url (RFC 4648) of deflate (RFC 1951). */
const linkOf = (look) => `#look=${deflateRawSync(Buffer.from(typeof look === "string" ? look : JSON.stringify(look))).toString("base64url")}`;

const click = (page, selector) => page.$eval(selector, (it) => it.click());

/** The browser is killed, now and then while files come in or edits are being written. */
async function killed(machine, chance) {
  const page = await machine.open();
  const count = chance.upTo(3);
  if (count > 0) await drop(page, "body", ...Array.from({ length: count }, (_, i) => frame(i)));
  if (chance.share() < 0.5) await allTold(page);
  for (let i = chance.upTo(3); i >= 0; i -= 1) {
    await setSlope(page, chance.slope());
    await sleep(chance.upTo(150));
  }
  const before = await told(page);
  await machine.kill();
  return losses(await machine.open(), before);
}

/** The page is left at once after an edit, whatever has been written. */
async function left(machine, chance) {
  const page = await machine.open();
  await setSlope(page, chance.slope());
  if (chance.share() < 0.5) await allKept(page);
  for (let i = chance.upTo(2); i >= 0; i -= 1) await setSlope(page, chance.slope());
  await sleep(chance.upTo(60));
  const before = await told(page);
  if (chance.share() < 0.5) await reloaded(page);
  else await machine.show(page);
  return losses(page, { ...before, kept: "yes" });
}

/** Each way to alter a record: whether it can't be gone on with as it is, and what it does. */
const ALTERATIONS = {
  "a newer record": [true, ({ record }) => (record.record = 9)],
  "a newer look": [true, ({ record }) => (record.base.look.lookwright = 9)],
  "a renamed control": [true, ({ record }) => (record.base.look = { lookwright: 2, scan: { contrast: { slant: 1 } } })],
  "a renamed step": [true, ({ steps }) => (steps.at(-1).change.look = { lookwright: 2, scan: { contrasts: { slope: 2 } } })],
  "a renamed stage": [true, ({ record }) => (record.base.look = { lookwright: 2, scanner: {} })],
  "a renamed screen": [true, ({ record }) => (record.base.delivery = { display: { display: "screen-9" } })],
  "a renamed encoding": [true, ({ record }) => (record.base.frames[record.frames[0].id] = { source: { encoding: "logc9" } })],
  "a missing step": [true, ({ steps }) => steps.pop()],
  "no list of frames": [true, ({ record }) => delete record.frames],
  "no look": [true, ({ record }) => delete record.base.look],
  "a missing view": [false, ({ record }) => delete record.view],
  "a senseless view": [false, ({ record }) => (record.view = { wipe: "far", before: 3 })],
  "a vanished demo frame": [false, ({ record }) => (record.frames[0].url = "/demo/gone.png")],
  "no position": [false, ({ record }) => delete record.current],
};

/** What is kept is of another release, or was altered: it is said, and all of it stays. */
async function altered(machine, chance) {
  const page = await machine.open();
  const slope = chance.slope();
  await drop(page, "body", frame(chance.upTo(200)));
  await allTold(page);
  await setSlope(page, slope === 2 ? 2.5 : slope);
  await allKept(page);
  const before = await told(page);
  const whole = await keptStore(page);
  await page.goto(`${machine.url}icon.svg`);
  const content = structuredClone(whole);
  const title = chance.one(Object.keys(ALTERATIONS));
  const [troubles, alter] = ALTERATIONS[title];
  alter(content);
  await keptStore(page, content);
  await machine.show(page);
  const { trouble } = await told(page);
  const lost = [];
  if (Boolean(trouble) !== troubles) lost.push(trouble ?? "it was not said");
  if (!trouble) lost.push(...(await losses(page, before)));
  else {
    // Whatever is answered, all of it stays.
    await page.evaluate((pick) => {
      const buttons = [...document.querySelectorAll("dialog.trouble button")].filter((it) => !/Download/.test(it.textContent));
      buttons[pick % buttons.length].click();
    }, chance.upTo(5));
    await page.waitForFunction(() => document.querySelector(".unkept") && !document.querySelector("dialog.trouble[open]"));
    await begun(page);
    const stays = await page.evaluate(async (id) => {
      const done = (request) => new Promise((resolve, reject) => Object.assign(request, { onsuccess: () => resolve(request.result), onerror: () => reject(request.error) }));
      const database = await done(indexedDB.open("lookwright"));
      const transaction = database.transaction(["sessions", "asides"]);
      const [record, asides] = await Promise.all([done(transaction.objectStore("sessions").get(id)), done(transaction.objectStore("asides").getAll())]);
      database.close();
      return record !== undefined || asides.some((aside) => aside.id.startsWith(id) && aside.copy);
    }, whole.record.id);
    if (!stays) lost.push("the record is gone");
  }
  return lost.map((what) => `${title}: ${what}`);
}

/** What the first release left is gone on with. */
async function upgraded(machine, chance) {
  const page = await machine.tab();
  await page.goto(`${machine.url}icon.svg`);
  const [slope, count] = [chance.slope(), chance.upTo(3)];
  const frames = Array.from({ length: count }, (_, i) => ({ ...frame(i), id: `own-${i}` }));
  await page.evaluate(firstRelease, { slope, name: "Before", frames: frames.map(({ id, name, bytes }) => ({ id, name, bytes: [...bytes] })), vanished: chance.share() < 0.5 });
  await machine.show(page);
  const before = { kept: "yes", slope, undos: 0, frames: frames.map(({ name }) => ({ name, kept: "yes" })) };
  const lost = await losses(page, before);
  if ((await told(page)).look !== "Before") lost.push("the look's name");
  await setSlope(page, chance.slope());
  await allKept(page);
  const now = await told(page);
  await reloaded(page);
  return [...lost, ...(await losses(page, now))];
}

/** Two tabs, each with work of its own; one takes a frame off the reel, and one may be closed. */
async function tabs(machine, chance) {
  const [one, two] = [await machine.open(), await machine.open()];
  await Promise.all([drop(one, "body", frame(chance.upTo(100))), drop(two, "body", frame(101 + chance.upTo(100)))]);
  for (const page of [one, two, one]) await setSlope(page, chance.slope());
  for (const page of [one, two]) {
    await page.bringToFront();
    await allKept(page);
  }
  if (chance.share() < 0.5) await click(two, ".reel-away");
  await allKept(two);
  const before = [await told(one), await told(two)];
  if (chance.share() < 0.3) {
    // The one that is closed is offered to the next that is opened.
    await one.close();
    const next = await machine.open();
    return losses(next, before[0]);
  }
  const lost = [];
  for (const [i, page] of [one, two].entries()) {
    await page.bringToFront();
    await reloaded(page);
    lost.push(...(await losses(page, before[i])));
  }
  return lost;
}

/** Files that don't all fit, by a limit that the browser keeps to, or by what it tells of its room. */
async function full(machine, chance) {
  const page = await machine.open();
  const room = 300_000 + chance.upTo(2_000_000);
  const estimate = chance.share() < 0.5 ? { quota: (16 << 20) + room, usage: 0 } : { quota: 1e12, usage: 0 };
  // Chromium tells of 10 GiB whatever there is, so there the limit comes as a surprise.
  await page.evaluate((it) => (navigator.storage.estimate = async () => it), estimate);
  await machine.limit(page, room);
  const lengths = machine.kind === "firefox" ? [6e6, 11e6, 16e6] : [120_000, 750_000, 1_900_000];
  await machine.choose(page, Array.from({ length: 3 }, (_, i) => long(i, chance.one(lengths))));
  await allTold(page);
  await setSlope(page, chance.slope());
  await page.waitForFunction(() => document.querySelector(".unkept").dataset.kept !== "writing");
  const before = await told(page);
  machine.refused += before.frames.filter(({ kept }) => kept === "no").length + (before.kept === "no" ? 1 : 0);
  const unsaid = before.frames.filter(({ kept }) => !["yes", "no", "demo"].includes(kept)).map(({ name }) => `${name} says nothing`);
  await reloaded(page);
  return [...unsaid, ...(await losses(page, before))];
}

/** Links over kept work: whole, with something behind them, cut, mangled, and of a newer release. */
async function linked(machine, chance) {
  const page = await machine.open();
  await setSlope(page, chance.slope());
  await allKept(page);
  const before = await told(page);
  const whole = linkOf({ lookwright: 2, name: "Theirs", scan: { contrast: { slope: chance.slope() } } });
  const kinds = {
    whole: [whole, "received"],
    tracked: [`${whole}&utm=1`, "received"],
    padded: [`${whole}==`, "received"],
    sentence: [`${whole}).`, "received"],
    older: [linkOf({ lookwright: 1, scan: { contrast: { slope: 2.2 } } }), "received"],
    cut: [whole.slice(0, 12 + chance.upTo(whole.length - 20)), "said"],
    mangled: [whole.slice(0, 20) + "zz" + whole.slice(22), "any"],
    junk: [`#look=${"x".repeat(1 + chance.upTo(40))}`, "said"],
    empty: ["#look=", "said"],
    newer: [linkOf({ lookwright: 9, name: "Later" }), "said"],
    renamed: [linkOf({ lookwright: 2, scan: { contrast: { slant: 2 } } }), "said"],
    noLook: [linkOf("[1, 2]"), "said"],
    bomb: [linkOf(" ".repeat(3_000_000)), "said"],
  };
  const title = chance.one(Object.keys(kinds));
  const [hash, outcome] = kinds[title];
  if (chance.share() < 0.5) await page.evaluate((it) => void (location.hash = it), hash);
  else await machine.show(page, hash);
  const found = await page.waitForFunction(
    () => (document.querySelector(".received:not([hidden])") ? "received" : [...document.querySelectorAll(".notice p")].some((it) => /link/.test(it.textContent)) ? "said" : null),
    { polling: 20 },
  );
  const became = await found.jsonValue();
  const lost = outcome === "any" || outcome === became ? [] : [`${became}, and not ${outcome}`];
  lost.push(...(await losses(page, before, { open: false })));
  return lost.map((what) => `a link, ${title}: ${what}`);
}

export const SCENES = { killed, left, altered, upgraded, tabs, full, linked };
