// The lesson: chapters from the address, live curves and pictures, and paper.
import assert from "node:assert/strict";
import test from "node:test";
import { pageOf, withPage, withPageOf, withoutPage } from "../../web/js/lesson/address.js";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";
import { act, clickButton, ready, savedLook, textOf } from "./desk.mjs";

const drawn = (page) => page.waitForFunction(() => [...document.querySelectorAll(".lesson-room canvas")].every((it) => it.dataset.drawn));
/** Greens of the picture as it leaves the stage. */
const greens = (page) =>
  page.$eval(".lesson-room canvas:last-child", (it) => {
    const { data } = it.getContext("2d").getImageData(0, 0, it.width, it.height);
    return Array.from({ length: data.length / 4 }, (_, i) => data[4 * i + 1]);
  });
const apart = (one, other) => one.reduce((sum, green, i) => sum + Math.abs(green - (other[i] ?? 0)), 0) / one.length;

test("a page of the lesson stands in the address alone or behind a look, which stays", () => {
  for (const [hash, chapter] of [["", null], ["#lesson", 0], ["#lesson=3", 2], ["#lesson=x", 0], ["#look=abc&lesson=4", 3], ["#look=abclesson=4", null], ["#lessons=4", null], ["#demonstration=2", null]]) assert.equal(pageOf(hash, "lesson"), chapter, hash);
  assert.equal(pageOf("#look=abc&demonstration=2", "demonstration"), 1);
  assert.equal(withPage("", "lesson", 1), "#lesson=2");
  assert.equal(withPage("#demonstration=6", "lesson", 1), "#lesson=2");
  assert.equal(withPage("#look=abc&lesson=6", "lesson", 1), "#look=abc&lesson=2");
  assert.equal(withoutPage("#look=abc&lesson=2"), "#look=abc");
  assert.equal(withoutPage("#lesson=2"), "#");
  assert.equal(withPageOf("#look=abc", "#lesson=3"), "#look=abc&lesson=3");
  assert.equal(withPageOf("#look=abc", "#look=de&demonstration"), "#look=abc&demonstration=1");
  assert.equal(withPageOf("#look=abc", "#look=de"), "#look=abc");
});

inOneBrowser(
  "a chapter opens from its link, shows the stage live, and changes nothing of one's own",
  async (session) => {
    const { page } = session;
    await ready(session);
    await page.waitForSelector(".lesson[open]");
    assert.equal(await textOf(page, ".lesson-title"), "The negative");
    await page.waitForFunction(() => document.querySelector(".lesson-shown").textContent !== "");
    // A stop is log10(2) of exposure, times a gamma of about .6: .18 of density (the average negative's, H-387).
    const perStop = Number(/density, (\d\.\d+)/.exec(await textOf(page, ".lesson-shown"))[1]);
    assert.ok(Math.abs(perStop - 0.6 * Math.log10(2)) < 0.02, `${perStop}`);
    assert.deepEqual(await session.accessibilityFaults(), []);

    // Two stops of push: steeper, and another picture.
    await drawn(page);
    const [curve, plain] = [await page.$eval(".lesson-path", (it) => it.getAttribute("d")), await greens(page)];
    await page.$eval("#lesson-try", (it) => {
      it.value = "2";
      it.dispatchEvent(new Event("input"));
    });
    await page.waitForFunction((was) => document.querySelector(".lesson-path").getAttribute("d") !== was, {}, curve);
    const pushed = Number(/density, (\d\.\d+)/.exec(await textOf(page, ".lesson-shown"))[1]);
    assert.ok(pushed > perStop + 0.02, `${pushed} after ${perStop}`);
    for (let wait = 0; wait < 200 && apart(plain, await greens(page)) < 1; wait += 1) await new Promise((resolve) => setTimeout(resolve, 100));
    assert.ok(apart(plain, await greens(page)) >= 1, "the picture is pushed, too");

    // The slider says what is taught with: no more than the control reaches, and its own number after a reset.
    const saysAt = async (value) => {
      await page.$eval("#lesson-try", (it, to) => {
        it.max = "99";
        it.value = String(to);
        it.dispatchEvent(new Event("input"));
      }, value);
      return textOf(page, ".lesson output");
    };
    assert.equal(await saysAt(99), await saysAt(50));
    await clickButton(session, ".lesson", "As it was");
    assert.match(await textOf(page, ".lesson output"), /^0\.00/);

    await clickButton(session, ".lesson", "Answer");
    assert.match(await textOf(page, ".lesson-answer"), /^The sun\./);
    await page.keyboard.press("PageDown");
    await page.waitForFunction(() => document.querySelector(".lesson-title")?.textContent === "The scan");
    assert.equal(pageOf(new URL(page.url()).hash, "lesson"), 3);
    assert.equal(await page.$eval(".lesson-answer", (it) => it.hidden), true);

    await page.evaluate(() => {
      window.print = () => {
        window.pages = [...document.querySelectorAll(".hand-out section")].map((it) => [it.querySelector("h1").textContent, it.querySelector(".lesson-path").getAttribute("d").length > 100, it.querySelector("canvas").width > 100]);
      };
    });
    await clickButton(session, ".lesson", "Print a hand-out");
    await page.waitForFunction(() => window.pages);
    const pages = await page.evaluate(() => window.pages);
    assert.equal(pages.length, 6);
    assert.deepEqual(pages[2], ["3. The negative", true, true]);

    // A printer that fails leaves no paper behind.
    await page.evaluate(() => {
      window.print = () => {
        throw new Error("no printer");
      };
    });
    await clickButton(session, ".lesson", "Print a hand-out");
    await page.waitForFunction(() => [...document.querySelectorAll(".lesson p")].some((it) => it.textContent.startsWith("The hand-out could not be made")));
    assert.equal(await page.evaluate(() => "printing" in document.documentElement.dataset || document.querySelector(".hand-out") !== null), false);

    // The look stands in the address beside it, and is no stranger's after a reload.
    await page.reload();
    await ready(session);
    await page.waitForSelector(".lesson[open]");
    assert.equal(await textOf(page, ".lesson-title"), "The scan");
    assert.equal(await page.$eval(".received", (it) => it.hidden), true);
    await page.keyboard.press("Escape");
    await page.waitForSelector(".lesson:not([open])");
    await page.waitForFunction(() => !location.hash.includes("lesson"));
    const look = JSON.parse((await savedLook(session)).bytes);
    assert.equal(look.negative?.development?.push ?? 0, 0);
  },
  { path: "#lesson=3" },
);

inEachBrowser(
  "on a phone a chapter is a column, and a number that is no chapter opens the first",
  async (session) => {
    const { page } = session;
    await ready(session);
    await page.waitForSelector(".lesson[open]");
    assert.equal(await textOf(page, ".lesson-title"), "From code to light");
    const wide = await page.$eval(".lesson .sheet-body", (it) => it.scrollWidth - it.clientWidth);
    assert.ok(wide <= 0, `${wide} px too wide`);
    assert.deepEqual(await session.accessibilityFaults(), []);
  },
  { path: "#lesson=x", viewport: PHONE },
);

inOneBrowser("without a frame on the reel the first chapter's curve follows its slider, and it says what is missing", async (session) => {
  const { page } = session;
  await ready(session);
  await act(session, "Take every frame off the reel");
  await page.waitForFunction(() => document.querySelector(".pane")?.getAttribute("aria-label") === "No picture");
  await page.evaluate(() => {
    location.hash = "#lesson=1";
  });
  await page.waitForSelector(".lesson[open]");
  await page.waitForFunction(() => document.querySelector(".lesson-path")?.getAttribute("d"));
  const curve = await page.$eval(".lesson-path", (it) => it.getAttribute("d"));
  await page.$eval("#lesson-try", (it) => {
    it.value = "2";
    it.dispatchEvent(new Event("input"));
  });
  await page.waitForFunction((was) => document.querySelector(".lesson-path").getAttribute("d") !== was, {}, curve);
  assert.equal(await page.$eval(".lesson-seen [role=status]", (it) => it.textContent), "Open a frame to see it here.");
  assert.deepEqual(await session.accessibilityFaults(), []);
});
