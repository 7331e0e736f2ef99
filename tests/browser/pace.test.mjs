// How a clip keeps pace: what needs no browser.
import assert from "node:assert/strict";
import { test } from "node:test";
import { beginCadence, made, shown, shownPerSecond } from "../../web/js/pure/cadence.js";
import { SIZES, beginPace, came, offered, paceWords, placeWords } from "../../web/js/pure/pace.js";

test("the size follows the pace that is measured", () => {
  const after = (pace, frames, taken, ms) => {
    let now = pace;
    for (let i = 0; i < frames; i += 1) {
      now = offered(now, taken(i), 1000 / 24, 2);
      if (taken(i)) now = came(now, ms);
    }
    return now;
  };
  const late = after(beginPace(), 24, (i) => i % 2 === 0, 90);
  assert.equal(late.level, 1);
  assert.equal(after(late, 240, () => false, 0).level, SIZES.length - 1);
  assert.equal(after(late, 12, () => true, 40).level, 1, "a larger size would not keep up");
  assert.equal(after(late, 12, () => true, 15).level, 0);
  assert.equal(paceWords(23.9, 24, 0), "24 frames/s");
  assert.equal(paceWords(17.2, 24, 1), "17 of 24 frames/s, 3/4 size");
  assert.equal(placeWords(30, 120, 24), "1.25 s, frame 31 of 120");
});

test("frames that are early wait for the usual time of a frame, late ones do not", () => {
  let cadence = beginCadence();
  for (let i = 0; i < 50; i += 1) cadence = made(cadence, 40).cadence;
  const early = made(cadence, 20).wait;
  // As long as the usual frame takes, and some room.
  assert.ok(early + 20 > 40 && early + 20 < 80, `${early} ms`);
  assert.ok(made(cadence, 200).wait < 0);
});

test("the rate is that of the last second, and unknown at first", () => {
  let cadence = beginCadence();
  for (let i = 0; i < 3; i += 1) cadence = shown(cadence, 40 * i);
  assert.equal(shownPerSecond(cadence), null);
  for (let i = 3; i < 100; i += 1) cadence = shown(cadence, 40 * i);
  assert.ok(Math.abs(shownPerSecond(cadence) - 25) < 0.01, String(shownPerSecond(cadence)));
  // A break is forgotten after a second.
  for (let i = 0; i < 60; i += 1) cadence = shown(cadence, 10_000 + 20 * i);
  assert.ok(Math.abs(shownPerSecond(cadence) - 50) < 0.01, String(shownPerSecond(cadence)));
});
