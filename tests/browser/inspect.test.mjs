// Looking closely shows the picture at full size.
import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { clickButton, lookwright, ready, savedLook, settled, shownPixels } from "./desk.mjs";
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
  await session.page.waitForFunction(() => document.querySelector(".look-name").value === "");
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
});
