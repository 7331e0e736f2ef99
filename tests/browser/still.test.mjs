// A still to match: the frame as the command line renders it through a known look is given back to the page.
import assert from "node:assert/strict";
import { join } from "node:path";
import { act, clickButton, lookwright, notice, openLogFrame, ready, settled } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";

const KNOWN = new URL("../../web/looks/grey-quay.json", import.meta.url).pathname;

inEachBrowser("the moves that a still asks for are listed, taken by one press and undone by another", async (session) => {
  await ready(session);
  const { page } = session;
  const input = await openLogFrame(session);
  const still = join(session.scratch, "still.png");
  await lookwright("render", KNOWN, input, "--from", "logc3", "--to", "srgb", "--no-texture", "-o", still);
  await act(session, "Match a still");
  await page.waitForSelector("dialog.still[open]");
  const picker = await page.$('dialog.still input[type="file"]');
  await picker.uploadFile(still);
  await page.waitForFunction(() => /^\d+ moves? found$/.test(document.querySelector("dialog.still [role=status]").textContent));
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
