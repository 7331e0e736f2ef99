// A look goes to a client as one file and comes back as a yes: the whole way, in each browser.
import assert from "node:assert/strict";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { readAnswer } from "../../web/js/pure/review/answer.js";
import { clickButton, notice, ready } from "./desk.mjs";
import { PHONE, inEachBrowser, inOneBrowser } from "./harness.mjs";

const KEPT = new URL("../data/review/", import.meta.url);

/** A client's phone: the file itself, opened from the disk; every request for anything else is noted. */
async function openOnPhone(session, path) {
  const page = await session.context.newPage();
  page.setDefaultTimeout(60_000);
  const asked = [];
  const { href } = pathToFileURL(path);
  page.on("request", (request) => request.url() === href || request.url().startsWith("data:") || asked.push(request.url()));
  await page.setViewport({ ...PHONE, hasTouch: true });
  await page.goto(href);
  await page.waitForSelector(".review .pane");
  return { page, asked };
}

/** What axe finds in the client's view. */
async function faults(session, page) {
  const tool = session.page;
  session.page = page;
  try {
    return await session.accessibilityFaults();
  } finally {
    session.page = tool;
  }
}

inEachBrowser("a review goes out as one file, is answered in three taps, and the yes comes back to its look", async (session) => {
  await ready(session);
  await session.page.keyboard.press("r");
  await session.page.waitForSelector(".review-sheet[open]");
  await session.page.waitForFunction(() => /MB: 3 frames, 1 version/.test(document.querySelector(".review-state")?.textContent), { polling: 200 });
  assert.deepEqual(await session.accessibilityFaults(".review-sheet"), []);
  await clickButton(session, ".review-sheet", "Save the review");
  const file = await session.downloads.next(/\.review\.html$/);
  assert.ok(file.bytes.length < 3_000_000, `${file.bytes.length} bytes`);

  const { page, asked } = await openOnPhone(session, file.path);
  // The picture is on the first screen, and nothing is wider than the smallest one.
  const picture = await page.$eval(".pane[data-picked]", (it) => it.getBoundingClientRect().toJSON());
  assert.ok(picture.width > 380 && picture.bottom < PHONE.height, JSON.stringify(picture));
  await page.$eval(".wipe", (it) => {
    it.value = "0.6";
    it.dispatchEvent(new Event("input"));
  });
  assert.equal(await page.$eval(".pane[data-picked]", (it) => it.style.getPropertyValue("--wipe")), "0.6");
  assert.deepEqual(await faults(session, page), []);
  await page.setViewport({ ...PHONE, width: 320, hasTouch: true });
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 320);
  await page.tap(".yes");
  await page.tap("dialog[open] .lit");
  await page.waitForSelector(".ways");
  assert.deepEqual(await faults(session, page), []);
  await page.tap('[data-way="file"]');
  assert.equal(await page.evaluate(() => document.activeElement.getAttribute("aria-invalid")), "true");
  await page.keyboard.type("Ada <b>Brandt</b>");
  await page.$eval(".tick input", (it) => it.click());
  await page.tap('[data-way="file"]');
  const text = (await session.downloads.next(/\.answer\.json$/)).bytes.toString();
  assert.deepEqual(asked, []);
  await page.close();

  const read = readAnswer(text).answer;
  assert.deepEqual([read.say, read.by, read.frames.map(({ say }) => say)], ["yes", "Ada <b>Brandt</b>", ["yes", "yes", "yes"]]);
  assert.equal(read.signature?.kind, "ES256");
  await session.page.keyboard.press("Escape");
  await session.drop("body", { name: "answer.json", bytes: Buffer.from(text) });
  await session.page.waitForSelector('.answer[data-say="yes"][data-state="same"]');
  const said = await session.page.$eval(".answer", (it) => it.textContent);
  assert.match(said, /Ada <b>Brandt<\/b> says yes to A/);
  assert.match(said, /Signed with key [0-9a-f]{8}/);
  assert.deepEqual(await session.accessibilityFaults(".answers-sheet"), []);
});

inOneBrowser("a review of the first version still opens, takes words on the picture, and prints what was said", async (session) => {
  await ready(session);
  const { page, asked } = await openOnPhone(session, fileURLToPath(new URL("review-1.html", KEPT)));
  await page.tap('.pick[data-letter="B"]');
  await page.tap(".change");
  await page.tap(".pane[data-picked]");
  await page.waitForFunction(() => document.activeElement.tagName === "TEXTAREA");
  await page.keyboard.type("The wall is too bright here.");
  await page.tap(".notes > .lit");
  await page.tap(".yes");
  await page.waitForSelector(".sheet[open] input[type=text]");
  await page.type(".sheet[open] input[type=text]", "Ada");
  await page.tap('[data-way="file"]');
  const read = readAnswer((await session.downloads.next(/\.answer\.json$/)).bytes.toString()).answer;
  assert.deepEqual(read.frames.map(({ say, version }) => [say, version]), [["change", "B"], ["yes", "B"]]);
  const [pin] = read.frames[0].pins;
  assert.equal(pin.words, "The wall is too bright here.");
  assert.ok(Math.abs(pin.x - 0.5) < 0.02 && Math.abs(pin.y - 0.5) < 0.02, JSON.stringify(pin));
  assert.match(await page.$eval(".record", (it) => it.textContent), /Ada.*The wall is too bright here\./s);
  assert.deepEqual(asked, []);
  await page.close();
});

inOneBrowser(
  "a review's link that is damaged says so once, on a page that stays",
  async (session) => {
    const { page } = session;
    await ready(session);
    await notice(session, /damaged or cut short/);
    let loads = 0;
    page.on("load", () => (loads += 1));
    await sleep(1500);
    assert.equal(loads, 0);
    // One that comes later takes the page over, and is read once as well.
    await Promise.all([page.waitForNavigation({ waitUntil: "load" }), page.evaluate(() => (location.hash = "#review=BBBB"))]);
    await ready(session);
    await notice(session, /damaged or cut short/);
    await sleep(1500);
    assert.equal(loads, 1);
  },
  { path: "#review=AAAA" },
);
