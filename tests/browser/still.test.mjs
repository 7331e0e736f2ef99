// A still to match: the frame as the command line renders it through a known look is given back to the page.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { act, allOf, choose, clickButton, lookwright, notice, openLogFrame, ready, settled, textOf } from "./desk.mjs";
import { inOneBrowser } from "./harness.mjs";

const KNOWN = new URL("../../web/looks/grey-quay.json", import.meta.url).pathname;

inOneBrowser("the moves that a still asks for are listed, taken by one press and undone by another", async (session) => {
  await ready(session);
  const { page } = session;
  const input = await openLogFrame(session);
  const still = join(session.scratch, "still.png");
  await lookwright("render", KNOWN, input, "--from", "logc3", "--to", "srgb", "--no-texture", "-o", still);
  await act(session, "Match a still");
  await page.waitForSelector("dialog.still[open]");
  const picker = await page.$('dialog.still input[type="file"]');
  await picker.uploadFile(still);
  await page.waitForFunction(() => /^\d+ moves? found$/.test(document.querySelector("dialog.still [role=status]")?.textContent));
  const rows = await page.$$eval(".still-moves tbody tr", (all) => all.map((row) => row.textContent));
  assert.ok(rows.some((row) => /^Exposure[+\u2212]?0\.\d\d to [+\u2212]?0\.\d\d stops/.test(row)), rows.join("; "));
  const words = await page.$eval(".still-words", (it) => it.textContent);
  const [, before, after] = /same picture.*?([\d.]+) dE2000 apart on average, ([\d.]+) with/.exec(words);
  assert.ok(Number(after) < 1.5 && Number(before) > 2 * Number(after), words);
  assert.match(words, /Sure: \d+ %/);
  assert.deepEqual(await session.accessibilityFaults("dialog.still"), []);
  const look = () => page.evaluate(() => document.querySelector('[aria-label="Undo"]').title);
  const kept = await look();
  await clickButton(session, "dialog.still", "Take these moves");
  await notice(session, /follows the still/);
  await settled(session);
  assert.notEqual(await look(), kept);
  await clickButton(session, ".notice", "Undo");
  await settled(session);
  assert.equal(await look(), kept);
  assert.equal(await page.$eval("dialog.still", (it) => it.open), false);
});

inOneBrowser("another frame of the reel is the still, as it came or through the look", async (session) => {
  await ready(session);
  const { page } = session;
  const input = await openLogFrame(session);
  const still = join(session.scratch, "graded.png");
  await lookwright("render", KNOWN, input, "--from", "logc3", "--to", "srgb", "--no-texture", "-o", still);
  await session.drop("body", { name: "graded.png", bytes: await readFile(still) });
  await page.waitForSelector('.pane[aria-label="Picture graded.png"]');
  await page.$$eval(".reel-frame", (all) => all.find((it) => it.getAttribute("aria-label").startsWith("quay_logc3.png")).click());
  await page.waitForSelector('.pane[aria-label="Picture quay_logc3.png"]');
  await settled(session);
  await act(session, "Match a still");
  await page.waitForSelector("dialog.still[open]");
  const names = () => allOf(page, ".still-list button");
  assert.ok((await names()).includes("graded.png") && !(await names()).includes("quay_logc3.png"), `${await names()}`);
  const press = async (name) => {
    const button = await page.waitForFunction((words) => [...document.querySelectorAll(".still-list button:enabled")].find((it) => it.textContent === words), {}, name);
    await button.evaluate((it) => it.click());
  };
  const found = () => page.waitForFunction(() => /^\d+ moves? found$/.test(document.querySelector("dialog.still [role=status]")?.textContent));
  // As it came it is the picture that the command line made of this very frame: compared place by place.
  await choose(session, "As they came");
  await press("graded.png");
  await found();
  const words = await textOf(page, ".still-words");
  const [, before, after] = /same picture.*?([\d.]+) dE2000 apart on average, ([\d.]+) with/.exec(words);
  assert.ok(Number(after) < 1.5 && Number(before) > 2 * Number(after), words);
  assert.equal(await textOf(page, ".still-pictures figcaption"), "The still: graded.png");
  assert.deepEqual(await allOf(page, '.still-list [aria-pressed="true"]'), ["graded.png"]);
  assert.deepEqual(await session.accessibilityFaults("dialog.still"), []);
  // Through the look it is another picture, and lies elsewhere.
  await choose(session, "With the look");
  await page.waitForFunction((was) => document.querySelector(".still-words").textContent !== was && /^\d+ moves? found$/.test(document.querySelector("dialog.still [role=status]").textContent), {}, words);
  assert.notEqual(await textOf(page, ".still-words"), words);
  // There and back at once: frames can be chosen again.
  await page.$$eval("dialog.still .still-frames input", (all) => [all[1], all[0]].forEach((it) => it.click()));
  await page.waitForSelector(".still-list button:enabled");
  // A file takes its place.
  await (await page.$('dialog.still input[type="file"]')).uploadFile(still);
  await page.waitForFunction(() => document.querySelector(".still-pictures figcaption")?.textContent === "The still");
  await found();
  assert.deepEqual(await allOf(page, '.still-list [aria-pressed="true"]'), []);
});
