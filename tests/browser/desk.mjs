// What the tests of the page do on it, in a person's terms.
import { execFile } from "node:child_process";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { fileURLToPath } from "node:url";
import { encode16 } from "./png.mjs";

const run = promisify(execFile);
const COMMAND_LINE = process.env.LOOKWRIGHT ?? fileURLToPath(new URL("../../target/debug/lookwright", import.meta.url));

/** Size of the frame that the tests make: small enough to be shown pixel by pixel. */
export const FRAME = { width: 320, height: 200 };

/**
 * A 16-bit frame in a camera's log code: a ramp over the whole scale from left to right, tinted
 * more and more from top to bottom.
 */
export function logFrame() {
  const { width, height } = FRAME;
  return encode16(width, height, (x, y) => {
    const grey = 0.06 + (0.86 * x) / (width - 1);
    const tint = (0.12 * y) / (height - 1);
    const phase = (2 * Math.PI * y) / height;
    return [grey + tint * Math.cos(phase), grey + tint * Math.cos(phase - 2.1), grey + tint * Math.cos(phase + 2.1)];
  });
}

/** Runs the native command line. */
export async function lookwright(...args) {
  await run(COMMAND_LINE, args);
}

/** The words of the first element that a selector finds. */
export const textOf = (page, selector) => page.$eval(selector, (it) => it.textContent);
/** The words of each that it finds. */
export const allOf = (page, selector) => page.$$eval(selector, (all) => all.map((it) => it.textContent));

/** Waits until the first picture is there. */
export async function ready(session) {
  await session.page.waitForSelector("html[data-ready]");
}

/** Drops the log frame and says that it is LogC3. */
export async function openLogFrame(session) {
  const name = "quay_logc3.png";
  const bytes = logFrame();
  const path = join(session.scratch, name);
  await writeFile(path, bytes);
  await session.drop("body", { name, bytes });
  await session.page.waitForSelector(`.pane[aria-label="Picture ${name}"]`);
  await settled(session);
  return path;
}

/** Waits until nothing is being rendered any more. */
export async function settled(session) {
  await session.page.waitForSelector('.pane[aria-busy="false"]');
}

/** The pixels that one side of the wipe shows, as RGBA, with the size. */
export const shownPixels = (session, side, canvas = ".preview") => canvasPixels(session, `.side-${side} ${canvas}`);

/** The pixels of a canvas, as RGBA, with the size. As text: numbers one by one take browsers' protocols seconds. */
export async function canvasPixels(session, selector) {
  const { width, height, text } = await session.page.$eval(selector, (canvas) => {
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    let letters = "";
    for (let i = 0; i < data.length; i += 8192) letters += String.fromCharCode(...data.subarray(i, i + 8192));
    return { width: canvas.width, height: canvas.height, text: btoa(letters) };
  });
  return { width, height, pixels: Buffer.from(text, "base64") };
}

/** Opens a stage, and a step of it with all that it has to set, unless they are open. */
export async function unfold(session, stage, step) {
  const press = async (selector) => {
    const button = await session.page.waitForSelector(selector);
    if ((await button.evaluate((it) => it.getAttribute("aria-expanded"))) !== "true") await button.evaluate((it) => it.click());
    await session.page.waitForSelector(`${selector}[aria-expanded="true"]`);
  };
  await press(`[data-stage="${stage}"] .stage-head`);
  if (!step) return;
  const folded = await session.page.$(`[data-stage="${stage}"] .steps-rest [data-step="${step}"]`);
  if (folded) await press(`[data-stage="${stage}"] .as-it-came`);
  await press(`[data-stage="${stage}"] [data-step="${step}"] .step-fold`);
}

/** Does what the palette calls by these words. */
export async function act(session, words) {
  const { page } = session;
  await page.keyboard.down("Control");
  await page.keyboard.press("k");
  await page.keyboard.up("Control");
  await page.waitForSelector("dialog.palette[open]");
  await page.keyboard.type(words);
  await page.keyboard.press("Enter");
  await page.waitForSelector("dialog.palette:not([open])");
}

/** The slider and the number field of a control. */
export async function control(session, stage, step, label) {
  const row = await session.page.evaluateHandle(
    (within, words) => [...document.querySelectorAll(`${within} .row`)].find((it) => it.querySelector(".row-label")?.textContent === words),
    `[data-stage="${stage}"] [data-step="${step}"]`,
    label,
  );
  return { slider: await row.$(".slider"), number: await row.$(".number"), reset: await row.$(".reset") };
}

/** Types a number into a control. */
export async function type(session, stage, step, label, value) {
  await unfold(session, stage, step);
  const { number } = await control(session, stage, step, label);
  await number.focus();
  await number.evaluate((it) => it.select());
  await session.page.keyboard.type(String(value));
  await session.page.keyboard.press("Enter");
}

/** Opens the save dialog, at one of its parts if one is named. */
export async function openSave(session, title) {
  if (!(await session.page.$("dialog.save[open]"))) await session.page.click(".bar-acts .pill-lit");
  await session.page.waitForSelector("dialog.save[open]");
  if (title) await openPart(session, title);
}

/** Puts the save dialog away, which stays open after saving. */
export async function closeSave(session) {
  await session.page.$eval("dialog.save", (it) => it.close());
  await session.page.waitForSelector("dialog.save:not([open])");
}

/** The look as the page would save it. */
export async function savedLook(session) {
  await openSave(session);
  await clickButton(session, "dialog.save", "Save look");
  const saved = await session.downloads.next(/\.json$/);
  await closeSave(session);
  return saved;
}

/** Opens a part of the save dialog, which is open. */
export async function openPart(session, title) {
  await session.page.evaluate((words) => {
    const tabs = [...document.querySelectorAll("dialog.save .part-tab")];
    tabs.find((it) => it.textContent === words).click();
  }, title);
}

/** Chooses one of several in the open dialog: side by side, or in a menu. */
export async function choose(session, words) {
  await session.page.evaluate((label) => {
    const all = (selector) => [...document.querySelectorAll(`dialog[open] ${selector}`)];
    const found = all(".segment, option").find((it) => it.textContent === label);
    const menu = found.closest("select");
    if (!menu) return found.querySelector("input").click();
    menu.value = found.value;
    menu.dispatchEvent(new Event("change"));
  }, words);
}

/** Presses the button with these words. */
export async function clickButton(session, within, words) {
  const button = await session.page.waitForFunction(
    (selector, label) => [...document.querySelectorAll(`${selector} button`)].find((it) => it.textContent === label),
    {},
    within,
    words,
  );
  await button.evaluate((it) => it.click());
}

/** What the notices say at present. */
export async function notices(session) {
  return session.page.$$eval(".notice p", (all) => all.map((it) => it.textContent));
}

/** Waits for a notice and gives its sentence. */
export async function notice(session, pattern) {
  const found = await session.page.waitForFunction(
    (source) => [...document.querySelectorAll(".notice p")].map((it) => it.textContent).find((it) => new RegExp(source).test(it)),
    { polling: 50 },
    pattern.source,
  );
  return found.jsonValue();
}
