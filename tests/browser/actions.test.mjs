// Actions by their words and by their keys.
import assert from "node:assert/strict";
import { test } from "node:test";
import { chordOf, isSingle, matches } from "../../web/js/pure/keys.js";
import { sought } from "../../web/js/pure/seek.js";
import { ready } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";

const press = (key, ...held) => ({ key, ctrlKey: held.includes("Ctrl"), metaKey: held.includes("Meta"), shiftKey: held.includes("Shift"), altKey: held.includes("Alt") });

test("keys mean what is written, on keyboards of any language", () => {
  const acts = (written, ...how) => matches(chordOf(written), press(...how));
  assert.ok(acts("W", "w") && acts("Ctrl+Z", "z", "Ctrl") && acts("Ctrl+Z", "z", "Meta") && acts("Ctrl+Shift+Z", "Z", "Ctrl", "Shift") && acts("Space", " ") && acts("+", "+", "Shift"));
  assert.ok(!acts("W", "W", "Shift") && !acts("W", "w", "Ctrl") && !acts("Ctrl+Z", "Z", "Ctrl", "Shift") && !acts("W", "w", "Alt") && !acts("Space", " ", "Shift"));
  // A German keyboard has "/" on Shift+7, an American one has it bare.
  assert.ok(acts("/", "/") && acts("/", "/", "Shift") && acts("?", "?", "Shift"));
  assert.deepEqual(["W", "/", "Space", "Ctrl+Z", "Escape", "Shift+Z"].map((it) => isSingle(chordOf(it))), [true, true, true, false, false, true]);
});

test("what begins with the words comes before what only has them", () => {
  const all = ["Fit the picture", "Undo", "Printer points, tint", "Dye density", "Open frames"];
  const find = (typed) => sought(all, typed, (it) => it);
  assert.deepEqual(find(""), all);
  assert.deepEqual(find("pi"), ["Fit the picture"]);
  assert.deepEqual(find("tint pri"), ["Printer points, tint"]);
  assert.deepEqual(find("den"), ["Dye density"]);
  assert.deepEqual(find("o"), ["Open frames", "Undo", "Printer points, tint"]);
  assert.deepEqual(find("zebra"), []);
});

inEachBrowser("a control is found by its words, keys are listed, and single ones can be put off", async (session) => {
  await ready(session);
  const { page } = session;
  await page.keyboard.press("/");
  await page.waitForSelector("dialog.palette[open]");
  assert.deepEqual(await session.accessibilityFaults("dialog.palette"), []);
  await page.keyboard.type("slope");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.activeElement.closest('[data-step="contrast"] [data-control="slope"]'));
  await page.keyboard.press("?");
  await page.waitForSelector("dialog.key-list[open]");
  assert.deepEqual(await session.accessibilityFaults("dialog.key-list"), []);
  // No two actions have the same key; only what the space bar does follows the frame.
  const keys = (await page.$$eval("dialog.key-list section:not(:last-child) kbd", (all) => all.map((it) => it.textContent))).filter((key) => key !== "Space");
  assert.ok(keys.length > 10);
  assert.equal(new Set(keys).size, keys.length, keys.join(" "));
  await page.click("dialog.key-list .switch input");
  await page.keyboard.press("Escape");
  await page.waitForFunction(() => !document.querySelector("dialog[open]"));
  await page.keyboard.press("/");
  await page.keyboard.down("Control");
  await page.keyboard.press("k");
  await page.keyboard.up("Control");
  await page.waitForSelector("dialog.palette[open]");
  assert.equal(await page.$eval(".palette-field", (it) => it.value), "");
});
