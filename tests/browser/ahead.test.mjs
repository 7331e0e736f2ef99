// What a picture is made of is begun as soon as the save dialog is open; what is saved is still what
// is asked for.
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { choose, clickButton, closeSave, lookwright, openLogFrame, ready, savedLook, settled, type } from "./desk.mjs";
import { inOneBrowser } from "./harness.mjs";
import { decode } from "./png.mjs";

const PHOTO = fileURLToPath(new URL("../../demo-images/visitor.jpg", import.meta.url));

/** Long enough for a small picture to be as far as it goes before it is asked for. */
const later = () => new Promise((resolve) => setTimeout(resolve, 700));

/** Counts the workers that the page begins from now on. */
async function countWorkers(session) {
  await session.page.evaluate(() => {
    globalThis.begun = 0;
    globalThis.Worker = class extends Worker {
      constructor(...given) {
        super(...given);
        globalThis.begun += 1;
      }
    };
  });
}

const begun = (session) => session.page.evaluate(() => globalThis.begun);

async function openDialog(session) {
  await session.page.click(".pill-lit");
  await session.page.waitForSelector("dialog[open]");
}

async function savedPicture(session) {
  await clickButton(session, "dialog[open]", "Save picture");
  return decode((await session.downloads.next(/\.png$/)).bytes);
}

inOneBrowser("what is begun while the dialog is open is finished only if it is what is asked for", async (session) => {
  await ready(session);
  const input = await openLogFrame(session);
  await openDialog(session);
  await later();
  await session.page.keyboard.press("Escape");
  await type(session, "scan", "contrast", "Slope", 2.6);
  await settled(session);
  const look = join(session.scratch, "look.json");
  await writeFile(look, (await savedLook(session)).bytes);
  const native = join(session.scratch, "native.png");
  await lookwright("render", look, input, "--overwrite", "-o", native, "--from", "logc3", "--depth", "16");
  const expected = decode(await readFile(native));

  await openDialog(session);
  await later();
  await choose(session, "PNG 16");
  assert.deepEqual(await savedPicture(session), expected, "another format than was begun");

  await closeSave(session);
  await countWorkers(session);
  await openDialog(session);
  await later();
  const before = await begun(session);
  assert.ok(before > 0, "nothing was begun");
  assert.deepEqual(await savedPicture(session), expected, "what was begun");
  assert.equal(await begun(session), before, "it was begun a second time");

  await closeSave(session);
  await openDialog(session);
  assert.deepEqual(await savedPicture(session), expected, "asked for at once");
});

inOneBrowser("a photograph is saved as a photograph, unless another format is chosen", async (session) => {
  await ready(session);
  const format = () => session.page.$eval("dialog[open] select:has([value=png8])", (it) => it.value);
  await session.choose("#picker", PHOTO);
  await session.page.waitForSelector('.pane[aria-label="Picture visitor.jpg"]');
  await openDialog(session);
  assert.equal(await format(), "jpeg");
  await session.page.keyboard.press("Escape");
  await openLogFrame(session);
  await openDialog(session);
  assert.equal(await format(), "png8");
  await choose(session, "TIFF 16");
  await session.page.keyboard.press("Escape");
  await openDialog(session);
  assert.equal(await format(), "tiff16", "what was chosen stays");
});
