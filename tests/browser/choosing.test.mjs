// Choosing by looking: the look wall, on a frame that has just been dropped.
import assert from "node:assert/strict";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import exif from "exif-reader";
import { contactLayout } from "../../web/js/pure/contact/layout.js";
import { FRAME, canvasPixels, clickButton, lookwright, notice, openLogFrame, ready, settled, type } from "./desk.mjs";
import { inEachBrowser, inOneBrowser } from "./harness.mjs";
import { decode } from "./png.mjs";
import { unzip } from "./zip.mjs";

const LOOKS = new URL("../../web/looks/", import.meta.url);

/** How far RGBA is from a file of 16 bits, in codes of 255. */
function apart({ pixels }, { codes }) {
  let worst = 0;
  for (let i = 0; i < codes.length; i += 1) worst = Math.max(worst, Math.abs(pixels[Math.floor(i / 3) * 4 + (i % 3)] - Math.round(codes[i] / 257)));
  return worst;
}

/** Waits until the whole wall is drawn. */
const drawn = (session) => session.page.waitForFunction(() => {
  const [, done, all] = /^(\d+) of (\d+)/.exec(document.querySelector(".wall [role=status]")?.textContent ?? "") ?? [];
  return done !== undefined && done === all && Number(all) > 0;
});

const lookName = (session) => session.page.$eval(".look-name", (it) => it.value);

inEachBrowser("a dropped frame is seen through every look, and one press takes one", async (session) => {
  await ready(session);
  const { page } = session;
  const input = await openLogFrame(session);
  await notice(session, /every look/);
  const list = JSON.parse(await readFile(new URL("index.json", LOOKS), "utf8"));
  await page.keyboard.press("w");
  await drawn(session);
  assert.deepEqual(await page.$$eval(".look-cell .cell-name", (all) => all.map((it) => it.textContent)), list.map(({ title }) => title));
  assert.deepEqual(await session.accessibilityFaults(), []);

  // Seen large the frame is smaller than its room, so it is what the command line renders.
  await page.focus(".look-cell:nth-of-type(2)");
  await page.keyboard.down(" ");
  const { id, title } = list[1];
  await page.waitForSelector(`.wall-large canvas[data-drawn="library-${id}"]`);
  const shown = await canvasPixels(session, ".wall-large canvas");
  await page.keyboard.up(" ");
  await page.waitForSelector(".wall-large", { hidden: true });
  const native = join(session.scratch, "native.png");
  await lookwright("render", new URL(`${id}.json`, LOOKS).pathname, input, "--overwrite", "-o", native, "--from", "logc3", "--depth", "16");
  const file = decode(await readFile(native));
  assert.deepEqual([shown.width, shown.height], [FRAME.width, FRAME.height]);
  assert.ok(apart(shown, file) <= 1, `differs by up to ${apart(shown, file)} of 255`);

  // Words narrow the wall; arrows move, Enter takes, undo brings back what was on.
  const before = await lookName(session);
  await page.keyboard.press("/");
  await page.keyboard.type("overcast");
  await page.waitForFunction(() => document.querySelectorAll(".look-cell:not([hidden])").length < 4);
  await page.$eval(".wall-search", (it) => (it.value = ""));
  await page.$eval(".wall-search", (it) => it.dispatchEvent(new Event("input")));
  await page.focus(".look-cell:nth-of-type(1)");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Enter");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await settled(session);
  assert.equal(await lookName(session), title);
  await page.keyboard.down("Control");
  await page.keyboard.press("z");
  await page.keyboard.up("Control");
  await page.waitForFunction((name) => document.querySelector(".look-name")?.value === name, {}, before);

  // Versions: kept by a press, told apart in words and as a picture, and gone back to.
  await page.keyboard.press("n");
  await notice(session, /^Kept as version A/);
  await type(session, "scan", "contrast", "Slope", 2.1);
  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press("c");
  await page.waitForSelector('.compare canvas[data-drawn="version-A"]');
  await page.waitForSelector('.compare canvas[data-drawn="now"]');
  const said = () => page.$$eval(".difference-rows dl > div", (all) => all.map((it) => it.textContent).join());
  assert.match(await said(), /^slope\d\.\d\d to 2\.10\u00d7$/);
  await page.waitForFunction(() => /^Mean \d/.test(document.querySelector(".compare-panel section:nth-of-type(2) > .quiet")?.textContent));
  assert.deepEqual(await session.accessibilityFaults(), []);
  await page.$eval(".blend-slider", (it) => {
    it.value = 50;
    it.dispatchEvent(new Event("input"));
  });
  await page.waitForSelector('.compare canvas[data-drawn="blend"]');
  const [, from, middle] = /^slope(\d\.\d\d) to (\d\.\d+)\u00d7$/.exec(await said()) ?? [];
  assert.ok(Math.abs(Number(middle) - (Number(from) + 2.1) / 2) < 1e-6, `${from} to ${middle}`);
  // Looked into, a side is what the command line renders, pixel by pixel.
  await page.select('.compare select[aria-label="What 1 shows"]', `library-${id}`);
  await clickButton(session, ".compare", "1:1");
  await page.waitForSelector(".compare .look-side:nth-child(1) .look-detail:not([hidden])");
  const looked = await canvasPixels(session, ".compare .look-side:nth-child(1) .look-detail");
  assert.deepEqual([looked.width, looked.height], [FRAME.width, FRAME.height]);
  assert.ok(apart(looked, file) <= 1, `differs by up to ${apart(looked, file)} of 255`);
  await page.select('.compare select[aria-label="What 1 shows"]', "version-A");
  await clickButton(session, ".compare", "Fit");
  await page.$eval(".blend-slider", (it) => {
    it.value = 50;
    it.dispatchEvent(new Event("input"));
  });
  await clickButton(session, ".compare", "Keep as a version");
  const versions = (letters) => page.waitForFunction((wanted) => [...document.querySelectorAll(".version-list .cell-mark")].map((it) => it.textContent).join("") === wanted, {}, letters);
  await versions("AB");
  await page.click('[aria-label="Let go of version B"]');
  await versions("A");
  await clickButton(session, ".compare-panel", "Undo");
  await versions("AB");
  // By itself the flicker never comes to more than three changes a second (WCAG 2.2, 2.3.1).
  await page.click('[data-mode="Flicker"]');
  const changes = await page.evaluate(
    () =>
      new Promise((resolve) => {
        let count = 0;
        const slot = document.querySelector(".compare-slot");
        new MutationObserver(() => (count += 1)).observe(slot, { attributeFilter: ["data-lit"] });
        const press = setInterval(() => document.querySelector(".compare").dispatchEvent(new KeyboardEvent("keydown", { key: "f" })), 20);
        setTimeout(() => (clearInterval(press), resolve(count)), 2000);
      }),
  );
  assert.ok(changes >= 1 && changes <= 6, `${changes} changes in two seconds`);
  await page.click('[data-mode="Wipe"]');
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await page.keyboard.down("Shift");
  await page.keyboard.press("B");
  await page.keyboard.up("Shift");
  await notice(session, /^Version B is on: slope 2\.10 to/);

  // One's own looks: kept, doubled, deleted and brought back, out as one zip, and on the wall.
  await page.keyboard.press("/");
  await page.keyboard.type("your looks");
  await page.keyboard.press("Enter");
  await clickButton(session, ".look-shelf", "Keep the look that is on");
  await clickButton(session, ".look-shelf", "Duplicate");
  const rows = (count) => page.waitForFunction((wanted) => document.querySelectorAll(".shelf-row").length === wanted, {}, count);
  await rows(2);
  assert.match(await page.$eval(".shelf-words p", (it) => it.textContent), /^from .+, 1 change/);
  assert.deepEqual(await session.accessibilityFaults(), []);
  await clickButton(session, ".shelf-row", "Delete");
  await rows(1);
  await clickButton(session, ".look-shelf", "Undo");
  await rows(2);
  await page.type('.shelf-row:first-child [aria-label="Licence"]', "CC BY 4.0");
  await page.keyboard.press("Tab");
  await page.waitForFunction(() => document.activeElement.getAttribute("aria-label") !== "Licence");
  await clickButton(session, ".look-shelf", "Save all as a zip");
  const zip = (await session.downloads.next(/looks\.zip$/)).bytes;
  const looks = [...unzip(zip).values()].map((bytes) => JSON.parse(bytes));
  assert.equal(looks.length, 2);
  assert.ok(looks.every((look) => look.scan.contrast.slope === Number(middle)), JSON.stringify(looks));
  assert.deepEqual(looks.map(({ note }) => /^(?:.*\n)?Licence: CC BY 4\.0$/s.test(note)), [true, false]);
  // The same into a folder, and from one.
  const folder = join(session.scratch, "looks");
  await page.evaluate(async () => {
    const inside = await (await navigator.storage.getDirectory()).getDirectoryHandle("looks", { create: true });
    window.showDirectoryPicker = async () => inside;
    [...document.querySelectorAll(".look-shelf button")].find((it) => it.textContent === "Save all into a folder").hidden = false;
  });
  await clickButton(session, ".look-shelf", "Save all into a folder");
  await page.waitForFunction(() => /^2 looks went into the folder looks\.$/.test(document.querySelector(".look-shelf [role=status]")?.textContent));
  const written = await page.evaluate(async () => {
    const found = {};
    for await (const [name, handle] of await window.showDirectoryPicker()) found[name] = await (await handle.getFile()).text();
    return found;
  });
  assert.deepEqual(written, Object.fromEntries([...unzip(zip)].map(([name, bytes]) => [name, bytes.toString()])));
  if (session.kind === "chromium") {
    await mkdir(join(folder, "__MACOSX"), { recursive: true });
    for (const [name, text] of Object.entries(written)) await writeFile(join(folder, name), text);
    for (const name of ["__MACOSX/._a.look.json", "note.txt"]) await writeFile(join(folder, name), "none");
    await (await page.$('.look-shelf [aria-label="A folder of look files"]')).uploadFile(folder);
    await rows(4);
    assert.equal(await page.$eval(".look-shelf [role=status]", (it) => it.textContent), "2 looks are kept.");
    for (const left of [3, 2]) {
      await page.$$eval(".shelf-row:last-child button", (all) => all.find((it) => it.textContent === "Delete").click());
      await rows(left);
    }
  }
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await page.keyboard.press("w");
  await page.waitForFunction(() => document.querySelectorAll('.look-cell[data-kind="own"] canvas[data-drawn]').length === 2);
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  // A zip of looks can be dropped as well.
  await session.drop("body", { name: "looks.zip", bytes: zip });
  await page.waitForSelector(".look-shelf[open]");
  await rows(4);

  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await page.keyboard.press("w");
  await drawn(session);
  // A contact sheet holds the same pictures, pixel by pixel.
  await clickButton(session, ".wall-foot", "Contact sheet");
  await page.waitForSelector(".contact[open]");
  await page.select('.contact select[aria-label="Save as"]', "png8");
  const sheetDrawn = () => page.waitForFunction(() => / drawn, /.test(document.querySelector(".contact [role=status]")?.textContent));
  await sheetDrawn();
  assert.deepEqual(await session.accessibilityFaults(), []);
  await clickButton(session, ".contact", "Save the sheet");
  const sheet = decode((await session.downloads.next(/looks\.png$/)).bytes);
  const names = await page.$$eval(".contact-list .batch-name", (all) => all.map((it) => it.textContent));
  const layout = contactLayout(names.map(() => FRAME), { paper: { kind: "picture", cell: 480 }, columns: 4, lines: 2 });
  assert.deepEqual([sheet.width, sheet.height], [layout.pages[0].width, layout.pages[0].height]);
  const { picture: cell } = layout.pages[0].cells[names.lastIndexOf(title)];
  assert.deepEqual([cell.width, cell.height], [FRAME.width, FRAME.height]);
  let worst = 0;
  for (let i = 0; i < file.codes.length; i += 1) {
    const [x, y, layer] = [Math.floor(i / 3) % FRAME.width, Math.floor(i / 3 / FRAME.width), i % 3];
    worst = Math.max(worst, Math.abs(sheet.codes[((cell.y + y) * sheet.width + cell.x + x) * 3 + layer] - Math.round(file.codes[i] / 257)));
  }
  assert.ok(worst <= 1, `differs by up to ${worst} of 255`);
  await page.select('.contact select[aria-label="Save as"]', "pdf a4");
  await sheetDrawn();
  await clickButton(session, ".contact", "Save the sheet");
  const pdf = (await session.downloads.next(/looks\.pdf$/)).bytes.toString("latin1");
  assert.match(pdf, /^%PDF-1\.\d[^]*%%EOF\s*$/);
  assert.equal(pdf.split("/DCTDecode").length - 1, names.length);
});

inEachBrowser(
  "opening the wall again and again holds no more than opening it a few times",
  async (session) => {
    await ready(session);
    const { page } = session;
    await openLogFrame(session);
    const inspector = await page.createCDPSession();
    const held = async (openings) => {
      for (let i = 0; i < openings; i += 1) {
        await page.keyboard.press("w");
        await drawn(session);
        await page.keyboard.press("Escape");
        await page.waitForSelector("dialog[open]", { hidden: true });
      }
      await inspector.send("HeapProfiler.collectGarbage");
      const { JSHeapUsedSize, Nodes, JSEventListeners } = await page.metrics();
      return { heap: JSHeapUsedSize, nodes: Nodes, listeners: JSEventListeners };
    };
    const [few, many] = [await held(4), await held(12)];
    // A wall has 19 cells: one that stayed for each opening would be hundreds of elements.
    assert.ok(many.nodes < few.nodes + 60 && many.listeners < few.listeners + 20, JSON.stringify([few, many]));
    assert.ok(many.heap < few.heap + 400_000, JSON.stringify([few, many]));
  },
  { only: "chromium" },
);

/** Entries of a camera: its maker, which way it was held (turned right by a quarter), a time; big-endian. */
function exifSegment() {
  const text = (words) => Buffer.from(`${words}\0`, "latin1");
  const [make, time] = [text("Saltmarket Works"), text("2026:11:26 23:10:00")];
  const data = 8 + 2 + 3 * 12 + 4;
  const entry = (tag, type, count, value) => {
    const bytes = Buffer.alloc(12);
    bytes.writeUInt16BE(tag, 0);
    bytes.writeUInt16BE(type, 2);
    bytes.writeUInt32BE(count, 4);
    if (type === 3) bytes.writeUInt16BE(value, 8);
    else bytes.writeUInt32BE(value, 8);
    return bytes;
  };
  const head = Buffer.from([0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 3]);
  const entries = [entry(0x010f, 2, make.length, data), entry(0x0112, 3, 1, 6), entry(0x0132, 2, time.length, data + make.length)];
  const block = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), head, ...entries, Buffer.alloc(4), make, time]);
  const marker = Buffer.from([0xff, 0xe1, 0, 0]);
  marker.writeUInt16BE(block.length + 2, 2);
  return Buffer.concat([marker, block]);
}

/** The block of a JPEG, from its TIFF header on. */
function exifBlock(jpeg) {
  const at = jpeg.indexOf(Buffer.from("Exif\0\0", "latin1"));
  return at < 0 ? null : jpeg.subarray(at + 6);
}

inOneBrowser("the reel goes out as one zip, and goes on where it was cancelled", async (session) => {
  await ready(session);
  const { page } = session;
  const input = await openLogFrame(session);
  // A photo that a camera has written, held upright.
  const plain = join(session.scratch, "plain.jpg");
  await lookwright("render", new URL("fish-market.json", LOOKS).pathname, input, "-o", plain, "--from", "logc3");
  const jpeg = await readFile(plain);
  const photo = Buffer.concat([jpeg.subarray(0, 2), exifSegment(), jpeg.subarray(2)]);
  await session.drop("body", { name: "photo.jpg", bytes: photo });
  await page.waitForSelector('.pane[aria-label="Picture photo.jpg"]');
  await settled(session);
  await page.evaluate(() => dispatchEvent(new KeyboardEvent("keydown", { key: "S", shiftKey: true })));
  await page.waitForSelector(".batch[open]");
  await page.select('.batch select[aria-label="Format"]', "jpeg");
  await page.$eval(".batch-options input[type=checkbox]", (it) => it.checked || it.click());
  await page.$eval(".batch-pattern", (it) => {
    it.value = "{n} {frame}";
    it.dispatchEvent(new Event("input"));
  });
  // Of the demo frames only the first, which takes long enough to be cancelled.
  await page.$$eval(".batch-rows li", (all) => all.slice(1, -2).forEach((_, i) => document.querySelectorAll(".batch-rows li")[i + 1].querySelector("input").click()));
  assert.deepEqual(await session.accessibilityFaults(), []);
  assert.deepEqual(await page.$$eval(".batch-rows li:nth-last-child(-n+2) .quiet", (all) => all.map((it) => it.textContent)), [`${FRAME.width} \u00d7 ${FRAME.height}`, `${FRAME.height} \u00d7 ${FRAME.width}`]);
  // Known of the demo frame once its file has been looked at.
  await page.waitForFunction(() => document.querySelector(".batch-rows .quiet")?.textContent.includes("\u00d7"));
  const [, expected] = await (await page.waitForFunction(() => /About ([\d.]+) MB/.exec(document.querySelector(".batch-options > p")?.textContent))).jsonValue();
  await clickButton(session, ".batch", "Save as a zip");
  await page.waitForSelector('.batch-rows li[data-state="working"]');
  await clickButton(session, ".batch", "Cancel");
  await page.waitForFunction(() => /^0 of 3 saved.*cancelled/.test(document.querySelector(".batch [role=status]")?.textContent));
  await clickButton(session, ".batch", "Go on");
  await page.waitForFunction(() => /^3 of 3 saved/.test(document.querySelector(".batch [role=status]")?.textContent));
  const zip = await session.downloads.next(/\.zip$/);
  const files = unzip(zip.bytes);
  assert.deepEqual([...files.keys()].map((name) => name.replace(/^\d+ /, "")), ["Window box.jpg", "quay_logc3.jpg", "photo.jpg"]);
  const megabytes = [...files.values()].reduce((sum, bytes) => sum + bytes.length, 0) / 1e6;
  assert.ok(megabytes < 2 * expected && megabytes > expected / 2, `${expected} MB were expected, and came to ${megabytes}`);
  const [, , saved] = [...files.values()];
  const { Image } = exif(exifBlock(saved));
  assert.deepEqual([Image.Make, Image.Orientation], ["Saltmarket Works", 1]);
  // Upright by now: what was wide is high.
  await writeFile(join(session.scratch, "saved.jpg"), saved);
  const png = join(session.scratch, "saved.png");
  await lookwright("render", new URL("fish-market.json", LOOKS).pathname, join(session.scratch, "saved.jpg"), "-o", png, "--from", "srgb");
  const { width, height } = decode(await readFile(png));
  assert.deepEqual([width, height], [FRAME.height, FRAME.width]);

  // Into a folder whose disk is full after one file: what is saved stays, the rest is listed, and it goes on.
  await page.evaluate(async () => {
    const root = await navigator.storage.getDirectory();
    const folder = await root.getDirectoryHandle("reel", { create: true });
    window.showDirectoryPicker = async () => folder;
    window.room = 1;
    const { createWritable } = FileSystemFileHandle.prototype;
    FileSystemFileHandle.prototype.createWritable = async function (...options) {
      if (!this.name.endsWith(".jpg")) return createWritable.apply(this, options);
      if (window.room === 0) throw new DOMException("full", "QuotaExceededError");
      window.room -= 1;
      return createWritable.apply(this, options);
    };
    document.querySelector(".batch-pattern").dispatchEvent(new Event("input"));
  });
  await clickButton(session, ".batch", "Save into a folder");
  await page.waitForFunction(() => /^1 of 3 saved into the folder reel\. The disk is full/.test(document.querySelector(".batch [role=status]")?.textContent));
  const states = () => page.$$eval(".batch-rows li", (all) => all.filter((it) => it.querySelector("input").checked).map((it) => it.dataset.state));
  assert.deepEqual(await states(), ["done", "waiting", "waiting"]);
  await page.evaluate(() => (window.room = Infinity));
  await clickButton(session, ".batch", "Go on");
  await page.waitForFunction(() => /^3 of 3 saved/.test(document.querySelector(".batch [role=status]")?.textContent));
  const inFolder = await page.evaluate(async () => {
    const found = {};
    for await (const [name, handle] of await window.showDirectoryPicker()) found[name] = (await handle.getFile()).size;
    return found;
  });
  assert.deepEqual(inFolder, Object.fromEntries([...files].map(([name, { length }]) => [name, length])));

  // The other frame is made as bright as this one: suggested, taken as one edit, undone.
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { hidden: true });
  await page.keyboard.press("/");
  await page.keyboard.type("trims across");
  await page.keyboard.press("Enter");
  await page.waitForSelector(".across[open]");
  await page.$$eval(".across li", (all) => all.slice(0, -1).forEach((_, i) => document.querySelectorAll(".across li")[i].querySelector("input").click()));
  await clickButton(session, ".across", "Match their exposure");
  await page.waitForFunction(() => document.querySelector(".across [role=status]")?.textContent === "1 measured");
  assert.match(await page.$eval(".across li:last-child .quiet", (it) => it.textContent), /^0\.00 stops to [+\u2212]?\d\.\d\d stops$/);
  await clickButton(session, ".across", "Match their light");
  await page.waitForFunction(() => / to \d+ K, /.test(document.querySelector(".across li:last-child .quiet")?.textContent));
  await clickButton(session, ".across", "Match their exposure");
  await page.waitForFunction(() => / stops to /.test(document.querySelector(".across li:last-child .quiet")?.textContent));
  assert.deepEqual(await session.accessibilityFaults(), []);
  await clickButton(session, ".across", "Apply what is suggested");
  await notice(session, /^Exposure matched across 1 frame\./);
});
