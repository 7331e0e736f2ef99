// A teacher's own lesson: pages in an order of one's own, saved, refused and opened again; and the worksheet.
import assert from "node:assert/strict";
import test from "node:test";
import { lessonData, readLesson } from "../../web/js/pure/lesson-file.js";
import { isRight, numberOf, questionsOf } from "../../web/js/pure/worksheet.js";
import { PHONE, inOneBrowser } from "./harness.mjs";
import { act, allOf, clickButton, ready, settled, textOf } from "./desk.mjs";
import { encode16 } from "./png.mjs";

const KNOWN = { chapter: ["negative", "scan"], demonstration: ["pushed"] };
/** LogC3's mid-grey at EI 800 is code 400 of 1023 (ARRI, ALEXA Log C Curve, 2017). */
const GREY = encode16(96, 64, () => [400 / 1023, 400 / 1023, 400 / 1023]);

test("a lesson comes back from its file, and what is none is refused in one sentence", () => {
  const lesson = { title: "Week <1>", items: [{ kind: "demonstration", id: "pushed", note: "a\nb", frame: "q.jpg", look: { lookwright: 3 } }, { kind: "chapter", id: "scan", note: "" }], places: [{ x: 3, y: 4 }], side: 9 };
  assert.deepEqual(readLesson(JSON.stringify(lessonData(lesson)), KNOWN), lesson);
  const of = (change) => JSON.stringify({ lookwright_lesson: 1, items: [{ chapter: "scan" }], ...change });
  for (const [text, why] of [
    ["{", /broken/],
    ["[]", /no lesson/],
    [JSON.stringify({ lookwright: 3 }), /no lesson/],
    [of({ lookwright_lesson: 2 }), /newer release/],
    [of({ lookwright_lesson: "1" }), /no version/],
    [of({ items: [] }), /no pages/],
    [of({ items: Array(61).fill({ chapter: "scan" }) }), /61 pages/],
    [of({ items: [{ chapter: "<b>" }] }), /no chapter/],
    [of({ items: [{ chapter: "scan", demonstration: "pushed" }] }), /neither/],
    [of({ items: [{ chapter: "scan", note: 3 }] }), /no text/],
    [of({ items: [{ chapter: "scan", note: "x".repeat(4001) }] }), /4000/],
    [of({ items: [{ chapter: "scan", html: "x" }] }), /means nothing/],
    [of({ worksheet: { side: 9, places: [[-1, 2]] } }), /worksheet/],
    [of({ title: ["x"] }), /title/],
  ]) {
    assert.throws(() => readLesson(text, KNOWN), (error) => why.test(error.message) && /^[^.]*[^.\n]*\.$|:/.test(error.message) && !error.message.includes("\n"), text.slice(0, 80));
  }
  assert.equal(readLesson(of({ items: [{ chapter: "scan", note: "a\u202eb\u0007" }] }), KNOWN).items[0].note, "ab");
  assert.equal(numberOf(" \u22120,5 "), -0.5);
  assert.equal(numberOf("5 code"), null);
  const [asked] = questionsOf(1, [{ stage: "intake", unit: "stops", digits: 1, marks: [] }, { stage: "scan", unit: "code of 1023", digits: 0, marks: [] }]);
  assert.ok(isRight(0.1, 0, asked) && !isRight(0.11, 0, asked));
});

inOneBrowser("a teacher's lesson is put together, saved, opened again, shown in its order, and refuses what is none", async (session) => {
  const { page } = session;
  await ready(session);
  await act(session, "Your own lesson");
  await page.waitForSelector(".own-lesson[open]");
  const titles = () => allOf(page, ".own-pages label > span");
  const [first, second] = await titles();
  // The second page comes first, the others but one demonstration are left out; hostile words stay words.
  await page.click('.own-pages li:nth-child(1) [aria-label^="Move down"]');
  assert.deepEqual((await titles()).slice(0, 2), [second, first]);
  const boxes = await page.$$(".own-pages input[type=checkbox]");
  for (const i of [1, 2, 3, 4, 5, 8]) await boxes[i].click();
  const NOTE = "<img src=x onerror=alert(1)> Look at <b>lamps</b>";
  await page.type(".own-pages li:nth-child(1) textarea", NOTE);
  await page.type(".own-title", "First week");
  await clickButton(session, ".own-pages li:nth-child(9)", "With this frame and look");
  assert.deepEqual(await session.accessibilityFaults(), []);
  if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/own.png` });
  await clickButton(session, ".own-lesson", "Save lesson");
  const saved = await session.downloads.next(/\.json$/);
  const data = JSON.parse(saved.bytes);
  assert.equal(data.lookwright_lesson, 1);
  assert.deepEqual(data.items.map(({ chapter, demonstration }) => chapter ?? demonstration), ["lens", "pushed"]);
  assert.equal(data.items[1].look.lookwright, 3);

  await clickButton(session, ".own-lesson", "Show it");
  await page.waitForSelector(".lesson[open]:not(.showing)");
  assert.equal(await textOf(page, ".lesson[open] .lesson-note"), NOTE);
  assert.equal(await textOf(page, ".lesson[open] .lesson-place"), "1 of 2");
  await page.keyboard.press("PageDown");
  await page.waitForSelector(".showing[open]");
  assert.equal(await textOf(page, ".showing .lesson-title"), "Pushed two stops");
  assert.equal(await page.$eval(".lesson:not(.showing)", (it) => it.open), false);
  await page.waitForFunction(() => document.querySelectorAll(".showing-sides canvas[data-drawn]").length === 2);
  await page.keyboard.press("Escape");
  await page.waitForSelector(".own-lesson[open]");
  await page.keyboard.press("Escape");
  await page.waitForSelector(".own-lesson:not([open])");

  // Dropped files that are none, and a look in it that is none: one sentence each, and the own one is still there.
  const drop = (name, text) => session.drop("body", { name, bytes: Buffer.from(text) });
  const failure = (pattern) => page.waitForFunction((source) => [...document.querySelectorAll(".failures li, .failures p")].some((it) => new RegExp(source).test(it.textContent)), {}, pattern);
  await drop("newer.json", JSON.stringify({ ...data, lookwright_lesson: 7 }));
  await failure("newer release");
  await drop("bad-look.json", JSON.stringify({ ...data, items: [{ chapter: "lens", look: { lookwright: 3, lens: { exposure: { stops: 99 } } } }] }));
  await failure("The look of page 1");
  await drop("large.json", `{"lookwright_lesson":1,"title":"${"x".repeat(600_000)}"}`);
  await failure("too large");
  await act(session, "Your own lesson");
  await page.waitForSelector(".own-lesson[open]");
  assert.equal(await page.$eval(".own-title", (it) => it.value), "First week");
  await page.keyboard.press("Escape");
  // And what was saved opens from a drop, in the place of what is there, which can come back.
  await drop("first.json", JSON.stringify({ ...data, title: "Second week" }));
  await page.waitForFunction(() => document.querySelector(".own-lesson[open] .own-title")?.value === "Second week");
  await clickButton(session, ".own-lesson", "Bring the one before back");
  assert.equal(await page.$eval(".own-title", (it) => it.value), "First week");
  assert.deepEqual((await titles()).slice(0, 2), [second, "Demonstration Pushed two stops"]);
  assert.equal(await page.$$eval(".own-pages img, .lesson img", (all) => all.length), 0);
});

inOneBrowser(
  "a worksheet asks for the probe's numbers, checks what is typed, and prints its questions without answers",
  async (session) => {
    const { page } = session;
    await ready(session);
    await session.drop("body", { name: "grey_logc3.png", bytes: GREY });
    await page.waitForSelector('.pane[aria-label="Picture grey_logc3.png"]');
    await settled(session);
    await act(session, "Worksheet with the probe");
    await page.waitForSelector(".worksheet[open]");
    const asked = await allOf(page, ".worksheet-questions li > span:first-child");
    assert.equal(asked.length, 8);
    assert.equal(asked[0], "Put the probe on place 1 (x 24, y 19). Green after Intake, in stops:");
    const fields = await page.$$(".worksheet-questions input");
    // Mid-grey is none of a stop from mid-grey, by the camera's own publication.
    await fields[0].type("0,05");
    await fields[1].type("1023");
    await fields[2].type("dense");
    await clickButton(session, ".worksheet", "Check the answers");
    await page.waitForFunction(() => /of 8 are right/.test(document.querySelector(".worksheet [role=status]")?.textContent));
    assert.deepEqual((await allOf(page, ".worksheet-verdict")).slice(0, 4), ["Right: the probe reads 0.0.", "Not yet: read it once more.", "This is no number.", "Not answered."]);
    assert.deepEqual(await session.accessibilityFaults(), []);
    const wide = await page.$eval(".worksheet .sheet-body", (it) => it.scrollWidth - it.clientWidth);
    assert.ok(wide <= 0, `${wide} px too wide`);
    if (process.env.LOOKWRIGHT_SHOTS) await page.screenshot({ path: `${process.env.LOOKWRIGHT_SHOTS}/worksheet-phone.png` });
    await page.evaluate(() => {
      window.print = () => {
        window.printed = document.querySelector(".hand-out").textContent;
      };
    });
    await clickButton(session, ".worksheet", "Print the worksheet");
    const printed = await page.evaluate(() => window.printed);
    assert.ok(printed.includes(asked[7]) && !/reads/.test(printed), printed);
    await clickButton(session, ".worksheet", "Go to the probe");
    await page.waitForFunction(() => document.querySelectorAll(".pin").length === 4);
  },
  { viewport: PHONE },
);
