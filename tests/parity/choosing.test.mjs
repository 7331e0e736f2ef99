// What differs between looks, in words, and looks between looks: over random looks of the core's own
// catalogue, read by the core.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { blend } from "../../web/js/pure/looks/blend.js";
import { differenceSaid, differences, differencesSaid } from "../../web/js/pure/looks/difference.js";
import { changed, randomNumbers, set, settingsOf, valueIn } from "./looks.mjs";

const RUNS = 200;

let wasm;
let catalogue;
before(async () => {
  const dist = process.env.LOOKWRIGHT_DIST;
  assert.ok(dist, "LOOKWRIGHT_DIST names the page's folder");
  wasm = await import(pathToFileURL(join(dist, "pkg/lookwright_wasm.js")));
  wasm.initSync({ module: readFileSync(join(dist, "pkg/lookwright_wasm_bg.wasm")) });
  catalogue = wasm.catalogue();
});

const canonical = (look) => wasm.read_look(JSON.stringify(look)).canonical;

/** Pairs of random looks, near to each other and far from each other. */
function* pairs() {
  const random = randomNumbers(17);
  for (let i = 0; i < RUNS; i += 1) {
    const from = changed(catalogue, { lookwright: 2 }, 0.4, random);
    yield [from, changed(catalogue, from, [0, 0.02, 0.2, 0.9][i % 4], random), random];
  }
}

test("what a wall renders from a copy of a frame is what the frame itself renders at that size", () => {
  const name = "quay-overcast_0007.png";
  const bytes = readFileSync(new URL("../../demo-images/quay-overcast.png", import.meta.url));
  const held = wasm.Picture.open(bytes, name);
  const { width, height } = held.info();
  const size = [220, Math.round((220 * height) / width)];
  const copy = wasm.Picture.from_copy(held.small_copy(...size), ...size, width, height);
  copy.set_number(held.number());
  assert.equal(held.number(), 7);
  const settings = new wasm.RenderSettings();
  for (const id of ["night-ferry", "net-loft", "matinee"]) {
    settings.read(readFileSync(new URL(`../../web/looks/${id}.json`, import.meta.url), "utf8"), '{"source":{"encoding":"logc3"}}', "{}");
    const [wall, frame] = [copy, held].map((picture) => picture.preview(settings, "screen", ...size, false));
    assert.equal(wall.length, 4 * size[0] * size[1]);
    assert.deepEqual(wall, frame, id);
  }
});

test("the difference of two looks is complete, and nothing else", () => {
  let told = 0;
  for (const [from, to] of pairs()) {
    const found = differences(catalogue, from, to);
    const key = (stage, step, control) => `${stage}.${step}.${control}`;
    const expected = settingsOf(catalogue).filter((it) => JSON.stringify(valueIn(from, it)) !== JSON.stringify(valueIn(to, it)));
    assert.deepEqual(
      found.map(({ stage, step, control }) => key(stage, step, control)).sort(),
      expected.map(({ stage, step, control }) => key(stage, step, control.id)).sort(),
    );
    // Whoever does what it says gets from one to the other.
    const made = structuredClone(from);
    for (const { stage, step, control, after } of found) {
      const { control: entry } = settingsOf(catalogue).find((it) => it.stage === stage && it.step === step && it.control.id === control);
      set(made, stage, step, entry, after);
    }
    assert.equal(canonical(made), canonical(to));
    // The words tell the values apart, and each setting from every other.
    for (const difference of found) assert.notEqual(difference.from, difference.to, differenceSaid(difference));
    const names = found.map(({ label, control }) => `${label}${control === "on" ? " (on)" : ""}`);
    assert.equal(new Set(names).size, names.length, names.join(", "));
    assert.equal(differencesSaid(found) === "", found.length === 0);
    told += found.length;
  }
  assert.ok(told > 1000, `${told} differences told`);
});

test("differences are said as colourists would", () => {
  const from = { lookwright: 2, scan: { contrast: { slope: 1.6 }, points: { warmth: 0.5 } }, lens: { light: { kelvin: 4000 } } };
  const to = {
    lookwright: 2,
    scan: { contrast: { slope: 1.74 }, points: { warmth: 2 }, curves: { red: [[0, 0], [1, 0.9]] } },
    negative: { halation: { on: false, strength: 0.4 }, stock: { balance: "day" }, grain: { strength: 1.5 } },
    print: { white: { white: "d55" } },
  };
  const words = differences(catalogue, from, to).filter(({ idle }) => !idle).map(differenceSaid);
  assert.deepEqual(words, [
    "light balance 4000 to 5500 K",
    "stock balance lamp, 3200 K to day, 5500 K",
    "halation off",
    "grain strength 1.00 to 1.50\u00d7",
    "warmth +0.50 to +2.00 points",
    "slope 1.60 to 1.74\u00d7",
    "curves red straight to 2 points",
    "print white D65 to D55",
  ]);
  assert.equal(differencesSaid(differences(catalogue, { lookwright: 2 }, { lookwright: 2, lens: { diffusion: { reach: 8 } } })), "only 1 value of steps that are off");
});

test("a blend begins and ends with its looks, and between them is a look that the core reads", () => {
  for (const [from, to, random] of pairs()) {
    assert.equal(blend(catalogue, from, to, 0), from);
    assert.equal(blend(catalogue, from, to, 1), to);
    const share = random();
    const made = blend(catalogue, from, to, share);
    canonical(made);
    for (const it of settingsOf(catalogue)) {
      if (it.control.kind !== "number" || it.control.unit === "deg" || it.control.id === "amount") continue;
      const [a, b, between] = [from, to, made].map((look) => valueIn(look, it));
      assert.ok(between >= Math.min(a, b) - 1e-4 && between <= Math.max(a, b) + 1e-4, `${it.step}.${it.control.id}: ${a}, ${between}, ${b}`);
    }
    // What is the same in both stays.
    for (const { control, before } of differences(catalogue, blend(catalogue, from, from, share), { ...from })) assert.fail(`${control} ${before}`);
  }
});

test("numbers are blended in their own spaces", () => {
  const middle = (from, to) => blend(catalogue, { lookwright: 2, ...from }, { lookwright: 2, ...to }, 0.5);
  const kelvin = (value) => ({ lens: { light: { kelvin: value } } });
  // The mired is 1e6 / K by definition: half way between 4000 and 8000 K lie 187.5 mireds.
  assert.ok(Math.abs(middle(kelvin(4000), kelvin(8000)).lens.light.kelvin - 1e6 / 187.5) < 1e-3);
  // A stock between ISO 100 and 400 is one stop from each.
  const speed = (value) => ({ negative: { stock: { speed: value } } });
  assert.equal(middle(speed(100), speed(400)).negative.stock.speed, 200);
  const hue = (value) => ({ scan: { split_tone: { shadow_hue: value } } });
  assert.equal(middle(hue(350), hue(30)).scan.split_tone.shadow_hue, 10);
  // A step that is off in one look fades in by its amount, as it is set in the other.
  const faded = middle({}, { lens: { diffusion: { on: true, strength: 0.4 } } });
  assert.deepEqual(faded.lens.diffusion, { on: true, amount: 0.5, strength: 0.4 });
  // A curve that is straight in one look goes half way at each point.
  assert.deepEqual(middle({}, { scan: { curves: { red: [[0, 0.2], [0.5, 0.5], [1, 0.8]] } } }).scan.curves.red, [[0, 0.1], [0.5, 0.5], [1, 0.9]]);
});
