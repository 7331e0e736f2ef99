// Looking closely shows the picture at full size.
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { canvasPixels, clickButton, lookwright, ready, savedLook, settled, shownPixels, textOf } from "./desk.mjs";
import { inEachBrowser } from "./harness.mjs";
import { decode, encode16 } from "./png.mjs";

const WIDE = { width: 1600, height: 1066 };
const PLAIN = { lookwright: 1, negative: { halation: { on: false }, softness: { on: false }, grain: { on: false } } };

/** A frame with detail in every pixel, larger than any preview. */
function largeFrame() {
  return encode16(WIDE.width, WIDE.height, (x, y) => {
    const code = 0.1 + 0.7 * (((x * 7 + y * 13) % 101) / 100);
    return [code, 0.9 * code, 0.1 + (0.7 * x) / WIDE.width];
  });
}

inEachBrowser("at 1:1 every pixel is the full picture's own", async (session) => {
  await ready(session);
  const bytes = largeFrame();
  const input = join(session.scratch, "large_logc3.png");
  await writeFile(input, bytes);
  await session.drop("body", { name: "large_logc3.png", bytes });
  await session.page.waitForSelector('.pane[aria-label="Picture large_logc3.png"]');
  await session.drop("body", { name: "plain.json", bytes: Buffer.from(JSON.stringify(PLAIN)) });
  await session.page.waitForFunction(() => document.querySelector(".look-name")?.value === "");
  await clickButton(session, ".tools", "1:1");
  await session.page.waitForSelector(".side-after .detail:not([hidden])");
  await settled(session);

  const look = join(session.scratch, "plain.look.json");
  await writeFile(look, (await savedLook(session)).bytes);
  const native = join(session.scratch, "native.png");
  await lookwright("render", look, input, "--overwrite", "-o", native, "--from", "logc3", "--depth", "16");
  const whole = decode(await readFile(native));
  const { width, height, pixels } = await shownPixels(session, "after", ".detail");
  const [left, top] = await session.page.$eval(".side-after .detail", (it) => ["--x", "--y"].map((name) => Number(it.style.getPropertyValue(name))));
  const [x0, y0] = [Math.round(left * WIDE.width), Math.round(top * WIDE.height)];
  assert.ok(width * height > 200_000, `${width} x ${height}`);
  let worst = 0;
  for (let y = 0; y < height; y += 3) {
    for (let x = 0; x < width; x += 1) {
      for (let channel = 0; channel < 3; channel += 1) {
        const expected = Math.round(whole.codes[((y0 + y) * WIDE.width + x0 + x) * 3 + channel] / 257);
        worst = Math.max(worst, Math.abs(pixels[(y * width + x) * 4 + channel] - expected));
      }
    }
  }
  assert.ok(worst <= 1, `differs by up to ${worst} of 255`);

  // What is on the screen is that, pixel for pixel: nothing is mixed between the canvas and the glass of the screen.
  const { page } = session;
  const expectedAt = (x, y) => [0, 1, 2].map((channel) => Math.round(whole.codes[(y * WIDE.width + x) * 3 + channel] / 257));
  const screenOf = async (selector) => {
    const box = await page.$eval(selector, (it) => it.getBoundingClientRect().toJSON());
    const clip = { x: Math.ceil(box.x), y: Math.ceil(box.y), width: Math.floor(box.width), height: Math.floor(box.height) };
    return { box, clip, shot: decode(Buffer.from(await page.screenshot({ clip, captureBeyondViewport: false }))) };
  };
  const worstOf = ({ clip, shot }, fileAt, insides) => {
    let off = 0;
    const { width: w } = shot;
    for (let y = insides; y < clip.height - insides; y += 5) {
      for (let x = insides; x < clip.width - insides; x += 1) {
        const wanted = fileAt(x, y);
        for (let channel = 0; wanted && channel < 3; channel += 1) off = Math.max(off, Math.abs(shot.codes[(y * w + x) * 3 + channel] - wanted[channel]));
      }
    }
    return off;
  };
  await page.$eval(".notices", (it) => it.remove());

  // The loupe, over a picture that fits: by key, in the file's pixels at each zoom, moved and put away by keys.
  await clickButton(session, ".tools", "Fit");
  await page.keyboard.press("m");
  const says = (pattern) => page.waitForFunction((source) => new RegExp(source).test(document.querySelector(".glass:not([hidden], [data-waiting]) .glass-words")?.textContent), {}, pattern);
  const at = () => page.$eval(".glass-canvas", (it) => /x (\d+), y (\d+)/.exec(it.getAttribute("aria-label")).slice(1).map(Number));
  const exact = async (zoom) => {
    const [x0, y0] = await at();
    const { width: side, pixels } = await canvasPixels(session, ".glass-canvas");
    const shown = side / zoom;
    const fileAt = (x, y) => expectedAt(x0 - Math.floor(shown / 2) + Math.floor(x / zoom), y0 - Math.floor(shown / 2) + Math.floor(y / zoom));
    let off = 0;
    for (let y = 0; y < side; y += 1) for (let x = 0; x < side; x += 1) fileAt(x, y).forEach((wanted, channel) => (off = Math.max(off, Math.abs(pixels[4 * (y * side + x) + channel] - wanted))));
    assert.ok(off <= 1, `${zoom}:1 differs by up to ${off} of 255`);
    // And on the screen, where a pixel is a square.
    const onScreen = await screenOf(".glass-canvas");
    const seen = worstOf(onScreen, fileAt, 2);
    assert.ok(seen <= 1, `${zoom}:1 on the screen differs by up to ${seen} of 255`);
  };
  await says("^2:1, after");
  const [x1, y1] = await at();
  await exact(2);
  await page.keyboard.press("+");
  await says("^4:1");
  await exact(4);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.down("Shift");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.up("Shift");
  await page.waitForFunction((x) => document.querySelector(".glass-canvas")?.getAttribute("aria-label").includes(`x ${x},`), {}, x1 + 2);
  assert.deepEqual(await at(), [x1 + 2, y1 + 20]);
  await exact(4);
  await page.keyboard.press("-");
  await page.keyboard.press("-");
  await says("^1:1");
  await exact(1);
  assert.equal(await textOf(page, ".zoom-percent").then((words) => parseInt(words, 10) < 100), true, "the picture stays as it is");
  assert.deepEqual(await session.accessibilityFaults(), []);
  // The other side of the wipe, by pointer.
  const opening = await (await page.$(".opening")).boundingBox();
  await page.mouse.move(opening.x + 20, opening.y + opening.height / 2);
  await says("^1:1, before");
  await page.mouse.move(opening.x + opening.width * 0.75, opening.y + opening.height / 2);
  await says("^1:1, after");
  await exact(1);
  await page.focus(".pane");
  await page.keyboard.press("Escape");
  await page.waitForSelector(".glass[hidden]");

  // The picture itself, true to the file at 1:1, 2:1 and 4:1.
  for (const [key, zoom] of [["1:1", 1], ["2:1", 2], ["4:1", 4]]) {
    if (zoom < 4) await clickButton(session, ".tools", key);
    else await page.keyboard.press("q");
    await page.waitForFunction((percent) => document.querySelector(".zoom-percent")?.textContent === `${percent} %`, {}, 100 * zoom);
    await settled(session);
    const detail = await page.$eval(".side-after .detail", (it) => ["--x", "--y"].map((name) => Number(it.style.getPropertyValue(name))));
    const [fx, fy] = [Math.round(detail[0] * WIDE.width), Math.round(detail[1] * WIDE.height)];
    const { box } = await screenOf(".side-after .detail");
    const pane = await screenOf(".pane");
    const wipe = await page.$eval(".wipe-line", (it) => it.getBoundingClientRect().right);
    const grip = await page.$eval(".wipe", (it) => it.getBoundingClientRect().toJSON());
    const fileAt = (x, y) => {
      const [px, py] = [pane.clip.x + x, pane.clip.y + y];
      if (px < wipe + 4 || (px < grip.right + 4 && py > grip.top - 4)) return null;
      const [ox, oy] = [Math.floor((px + 0.5 - box.x) / zoom), Math.floor((py + 0.5 - box.y) / zoom)];
      return fx + ox < WIDE.width && fy + oy < WIDE.height && ox >= 0 && oy >= 0 ? expectedAt(fx + ox, fy + oy) : null;
    };
    const off = worstOf(pane, fileAt, 4);
    assert.ok(off <= 1, `${zoom}:1 on the screen differs by up to ${off} of 255`);
  }
});
