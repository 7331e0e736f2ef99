// What differs between looks, in words, and looks between looks: over random looks of the core's own
// catalogue, read by the core.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { POINTS_PER_PIXEL, contactLayout, cut } from "../../web/js/pure/contact/layout.js";
import { namesBy } from "../../web/js/pure/batch/names.js";
import { blend } from "../../web/js/pure/looks/blend.js";
import { hasColour, isSought, originOf, whatFor } from "../../web/js/pure/looks/choices.js";
import { differenceSaid, differences, differencesSaid } from "../../web/js/pure/looks/difference.js";
import { apart, together } from "../../web/js/pure/looks/licence.js";
import { mayChange } from "../../web/js/pure/looks/flicker.js";
import { added, fileNames, lookFileName, moved, renamed } from "../../web/js/pure/looks/shelf.js";
import { WIDTHS, exposureStrips, stripPlaces, stripsOf } from "../../web/js/pure/looks/strips.js";
import { balanceOf, exposureFor, lightFor, medianLuma } from "../../web/js/pure/looks/match.js";
import { readVersions, sameVersion, withVersion, written } from "../../web/js/pure/looks/versions.js";
import { behind, gripOf, shareAt } from "../../web/js/pure/looks/wipe.js";
import { changed, randomNumbers, set, settingsOf, valueIn } from "./looks.mjs";

const RUNS = 200;

let wasm;
let catalogue;
/** Of the looks that this core writes. */
let version;
before(async () => {
  const dist = process.env.LOOKWRIGHT_DIST;
  assert.ok(dist, "LOOKWRIGHT_DIST names the page's folder");
  wasm = await import(pathToFileURL(join(dist, "pkg/lookwright_wasm.js")));
  wasm.initSync({ module: readFileSync(join(dist, "pkg/lookwright_wasm_bg.wasm")) });
  catalogue = wasm.catalogue();
  version = JSON.parse(wasm.starting_look(catalogue.startingStocks[0].id)).lookwright;
});

const canonical = (look) => wasm.read_look(JSON.stringify(look)).canonical;

/** Pairs of random looks, near to each other and far from each other. */
function* pairs() {
  const random = randomNumbers(17);
  for (let i = 0; i < RUNS; i += 1) {
    const from = changed(catalogue, { lookwright: version }, 0.4, random);
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
  const from = { lookwright: version, scan: { contrast: { slope: 1.6 }, points: { warmth: 0.5 } }, lens: { light: { kelvin: 4000 } }, negative: { stock: { balance: "lamp" } } };
  const to = {
    lookwright: version,
    scan: { contrast: { slope: 1.74 }, points: { warmth: 2 }, curves: { red: [[0, 0], [1, 0.9]] } },
    negative: { halation: { on: false, strength: 0.4 }, stock: { balance: "day" }, grain: { strength: 1.5 } },
    print: { white: { white: "d55" } },
  };
  const words = differences(catalogue, from, to).filter(({ idle }) => !idle).map(differenceSaid);
  assert.deepEqual(words, [
    "light balance 4000 to 5500 K",
    "balance lamp, 3200 K to day, 5500 K",
    "halation off",
    "grain strength 1.00 to 1.50\u00d7",
    "warmth +0.50 to +2.00 points",
    "slope 1.60 to 1.74\u00d7",
    "curves red straight to 2 points",
    "print white D65 to D55",
  ]);
  assert.equal(differencesSaid(differences(catalogue, { lookwright: version }, { lookwright: version, lens: { diffusion: { reach: 8 } } })), "only 1 value of steps that are off");
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
  const middle = (from, to) => blend(catalogue, { lookwright: version, ...from }, { lookwright: version, ...to }, 0.5);
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

test("strips lie about the present value, which is one of them to the last digit", () => {
  const random = randomNumbers(5);
  for (const { places } of stripPlaces(catalogue)) {
    for (const { control } of places) {
      for (const width of Object.values(WIDTHS)) {
        for (let i = 0; i < 20; i += 1) {
          const { min, max } = control;
          const present = control.kind !== "number" ? control.default : [min, max, control.whole ? min : min + (max - min) * random()][i % 3];
          const strips = stripsOf(control, present, width);
          assert.equal(strips.filter((strip) => strip.present).length, 1, control.id);
          assert.equal(strips.find((strip) => strip.present).value, present);
          if (control.kind !== "number") continue;
          const values = strips.map(({ value }) => value);
          assert.ok(values.every((value, k) => value >= min && value <= max && (k === 0 || value > values[k - 1])), `${control.id}: ${values}`);
          assert.ok(values.length >= 3 && values.length <= 5, `${control.id}: ${values}`);
        }
      }
    }
  }
  const exposure = catalogue.stages[0].steps.find(({ id }) => id === "trim").controls.find(({ id }) => id === "exposure");
  assert.deepEqual(exposureStrips(exposure, 0.25).map(({ value }) => value), [-2.75, -1.75, -0.75, 0.25, 1.25, 2.25, 3.25]);
  assert.deepEqual(exposureStrips(exposure, 5.5).map(({ value }) => value), [2.5, 3.5, 4.5, 5.5, 6]);
});

test("a wipe's line parts the picture at any angle, and goes where its grip is moved to", () => {
  const size = { width: 300, height: 200 };
  const area = (corners) => Math.abs(corners.reduce((sum, { x, y }, i) => {
    const next = corners[(i + 1) % corners.length];
    return sum + x * next.y - next.x * y;
  }, 0)) / 2;
  const random = randomNumbers(3);
  for (let i = 0; i < 200; i += 1) {
    const wipe = { share: random(), degrees: Math.floor(random() * 24) * 15 };
    const other = { share: 1 - wipe.share, degrees: (wipe.degrees + 180) % 360 };
    // What lies behind it and what lies before it, which is behind it from the other side, is the picture.
    assert.ok(Math.abs(area(behind(wipe, size)) + area(behind(other, size)) - 300 * 200) < 1e-6);
    assert.ok(Math.abs(shareAt(gripOf(wipe, size), wipe.degrees, size) - wipe.share) < 1e-9);
  }
  assert.equal(area(behind({ share: 0, degrees: 30 }, size)), 300 * 200);
  assert.ok(area(behind({ share: 1, degrees: 30 }, size)) < 1e-6);
  assert.equal(area(behind({ share: 0.25, degrees: 0 }, size)), 225 * 200);
});

test("versions take the next letter, know themselves again, and come back as they were kept", () => {
  const slope = (value) => ({ lookwright: version, name: "Quay", scan: { contrast: { slope: value } } });
  let kept = [];
  for (let i = 0; i < 8; i += 1) ({ kept } = withVersion(catalogue, kept, slope(1 + i / 10), i));
  assert.deepEqual(kept.map(({ letter }) => letter).join(""), "ABCDEFGH");
  assert.equal(kept[0].name, "Quay");
  assert.equal(kept[3].name, "Slope 1.30\u00d7");
  assert.equal(withVersion(catalogue, kept, slope(3), 9), null);
  assert.equal(sameVersion(catalogue, kept, slope(1.4)).letter, "E");
  const again = readVersions(JSON.parse(JSON.stringify(written(kept))));
  assert.deepEqual(again, kept);
  // A letter that was let go is taken next; what is no version is left out.
  const without = again.filter(({ letter }) => letter !== "C");
  assert.equal(withVersion(catalogue, without, slope(3), 9).version.letter, "C");
  for (const raw of [undefined, null, { v: 2, kept }, { v: 1, kept: "A" }, { v: 1, kept: [null, { letter: "A" }, { letter: "Z", look: {} }] }]) assert.deepEqual(readVersions(raw), []);
});

test("looks are found by their words and known by what they are for", () => {
  assert.equal(whatFor("For dawn and dusk. Peach light over blue shade."), "Dawn and dusk");
  assert.equal(whatFor("iris prints"), "iris prints", "words that a person began so stay");
  assert.equal(whatFor(""), "");
  assert.ok(whatFor(`For ${"long ".repeat(40)}words.`).length <= 50);
  const choice = { name: "First catch", what: "dawn and dusk", note: "Peach light over blue shade." };
  for (const words of ["", "dusk", "peach catch", "DAWN, blue"]) assert.ok(isSought(choice, words), words);
  for (const words of ["lamps", "dusk lamps", "usk"]) assert.ok(!isSought(choice, words), words);
  assert.ok(hasColour(catalogue, { lookwright: version }));
  assert.ok(!hasColour(catalogue, { lookwright: version, negative: { stock: { balance: "panchromatic" } } }));
  const look = (slope, name) => ({ id: name, look: { lookwright: version, name, scan: { contrast: { slope } } } });
  const others = [look(1.2, "One"), look(1.5, "Two")];
  assert.equal(originOf(catalogue, { ...others[1].look, name: "Mine" }, others).choice.id, "Two");
  assert.deepEqual([originOf(catalogue, look(3, "One").look, others)].map(({ choice, changes }) => [choice.id, changes]), [["One", 1]]);
});

test("pictures change places three times a second at most", () => {
  // WCAG 2.2, success criterion 2.3.1.
  let changes = 0;
  let last = null;
  for (let now = 0; now < 10_000; now += 7) {
    if (!mayChange(last, now)) continue;
    last = now;
    changes += 1;
  }
  assert.ok(changes > 20 && changes <= 30, `${changes} in ten seconds`);
});

test("own looks stand in their order, and each has a file of its own", () => {
  let own = [];
  for (const [i, name] of ["Quay", "quay", "Pier 1.5", "a/b"].entries()) own.push(added(own, { id: `${i}`, look: { lookwright: version, note: "For fog." }, name, now: i, ancestors: [] }));
  assert.deepEqual(fileNames(own), ["Quay.look.json", "quay (2).look.json", "Pier 1.5.look.json", "a-b.look.json"]);
  for (const look of moved(own, "2", -1)) own = own.map((it) => (it.id === look.id ? look : it));
  own.sort((a, b) => a.order - b.order);
  assert.deepEqual(own.map(({ id }) => id), ["0", "2", "1", "3"]);
  assert.deepEqual(moved(own, "0", -1), []);
  assert.deepEqual(moved(own, "3", 1), []);
  const next = renamed(own[0], { name: "Mole", note: "" }, 9);
  assert.deepEqual([next.name, next.look.name, next.changed, next.look.note], ["Mole", "Mole", 9, undefined]);
  // A licence is the last line of the note, and nothing else is.
  for (const words of [{ note: "For fog.\nAnd rain.", licence: "CC BY 4.0" }, { note: "", licence: "mine" }, { note: "Licence: is what some want", licence: "" }, { note: "For fog.", licence: "" }]) assert.equal(together(apart(together(words))), together(words));
  assert.deepEqual(apart("For fog.\nLicence: CC BY 4.0"), { note: "For fog.", licence: "CC BY 4.0" });
  assert.deepEqual(apart("Licence: none yet.\nFor fog."), { note: "Licence: none yet.\nFor fog.", licence: "" });
  assert.deepEqual(["a.json", "mine/b/C.look.JSON", "note.txt", "mine/", "__MACOSX/mine/._a.json", "mine/._a.json"].map(lookFileName), ["a.json", "C.look.JSON", null, null, null, null]);
});

test("files of a reel are named by the pattern, safely, and no two the same", () => {
  assert.deepEqual(namesBy("{n} {frame} - {look}", ["quay.tif", "pier.jpg"], "Fog signal"), ["1 quay - Fog signal", "2 pier - Fog signal"]);
  assert.deepEqual(namesBy("{frame}", ["a.png", "A.jpg", "a"], ""), ["a", "A (2)", "a (3)"]);
  assert.deepEqual(namesBy("../{frame}", ["c:\\x?.png"], ""), ["-c-x-"]);
  assert.deepEqual(namesBy("{n}", Array(12).fill("x"), "").slice(0, 2), ["01", "02"]);
  assert.deepEqual(namesBy(" . ", ["x"], ""), ["frame 1"]);
});

test("an exposure is found that makes a frame as bright as another", async () => {
  const grey = (codes) => ({ width: codes.length, height: 1, pixels: Uint8ClampedArray.from(codes.flatMap((code) => [code, code, code, 255])) });
  assert.ok(Math.abs(medianLuma(grey([10, 20, 30, 200, 250])) - 30) <= 0.5);
  assert.equal(medianLuma(grey([])), 0);
  // Darkened by 1.3 stops, a real frame is brought back to within a step.
  const held = wasm.Picture.open(readFileSync(new URL("../../demo-images/quay-overcast.png", import.meta.url)), "quay.png");
  const settings = new wasm.RenderSettings();
  const brightness = async (stops) => {
    settings.read('{"lookwright":2}', JSON.stringify({ source: { encoding: "logc3" }, trim: { exposure: stops } }), "{}");
    return medianLuma({ width: 90, height: 60, pixels: held.preview(settings, "screen", 90, 60, false) });
  };
  const wanted = await brightness(0);
  const found = await exposureFor((stops) => brightness(stops - 1.3), wanted, { min: -6, max: 6, step: 0.05 });
  assert.ok(Math.abs(found - 1.3) <= 0.1, `${found}`);
  // What no exposure reaches comes as near as it can.
  assert.ok(Math.abs((await exposureFor(brightness, 1e9, { min: -6, max: 6, step: 0.05 })) - 6) < 0.05);
});

test("a light is found that balances a frame as another is", async () => {
  const bytes = readFileSync(new URL("../../demo-images/quay-overcast.png", import.meta.url));
  const held = wasm.Picture.open(bytes, "quay.png");
  const { width, height } = held.info();
  const size = [96, Math.round((96 * height) / width)];
  const copy = wasm.Picture.from_copy(held.small_copy(...size), ...size, width, height);
  const settings = new wasm.RenderSettings();
  const trim = catalogue.stages.find(({ id }) => id === "intake").steps.find(({ id }) => id === "trim");
  const [kelvin, tint] = ["kelvin", "tint"].map((id) => trim.controls.find((control) => control.id === id));
  for (const id of ["matinee", "grey-quay"]) {
    const look = readFileSync(new URL(`../../web/looks/${id}.json`, import.meta.url), "utf8");
    const balance = async (light) => {
      settings.read(look, JSON.stringify({ source: { encoding: "logc3" }, trim: light }), "{}");
      return balanceOf({ pixels: copy.preview(settings, "screen", ...size, false) });
    };
    // The same frame, trimmed: its own trim has to be found again, in mireds (1e6 / K) and Duv.
    for (const sought of [{ kelvin: 3400, tint: 0.006 }, { kelvin: 8000, tint: -0.008 }, { kelvin: 5500, tint: 0 }]) {
      const found = await lightFor(balance, await balance(sought), { kelvin: 5500, tint: 0 }, { kelvin, tint });
      assert.ok(Math.abs(1e6 / found.kelvin - 1e6 / sought.kelvin) < 3, `${id}: ${found.kelvin} for ${sought.kelvin} K`);
      assert.ok(Math.abs(found.tint - sought.tint) < 0.001, `${id}: ${found.tint} for ${sought.tint}`);
    }
  }
  // Where a step leads into the dark, the nearest light that was seen is given.
  const seen = [];
  const found = await lightFor(async (light) => {
    seen.push(light);
    return seen.length > 3 ? null : [light.tint * 100, 1e6 / light.kelvin / 100];
  }, [0.3, 1.9], { kelvin: 5500, tint: 0 }, { kelvin, tint });
  assert.deepEqual([Math.round(found.kelvin), found.tint, seen.length], [5500, 0, 4]);
  const black = { pixels: new Uint8ClampedArray(64) };
  assert.equal(balanceOf(black), null);
  assert.equal(await lightFor(async () => null, [0, 0], { kelvin: 5500, tint: 0 }, { kelvin, tint }), null);
});

test("a contact sheet holds every picture once, at its own shape, beside and above the others, its name beneath it", () => {
  const random = randomNumbers(23);
  const papers = [{ kind: "picture", cell: 240 }, { kind: "picture", cell: 480 }, ...["a4", "letter"].flatMap((kind) => [true, false].map((sideways) => ({ kind, sideways })))];
  for (let run = 0; run < RUNS / 4; run += 1) {
    const paper = papers[run % papers.length];
    const pictures = Array.from({ length: 1 + Math.floor(60 * random()) }, () => ({ width: 40 + Math.floor(5000 * random()), height: 40 + Math.floor(5000 * random()) }));
    const { pages } = contactLayout(pictures, { paper, columns: 1 + Math.floor(8 * random()), lines: 1 + (run % 2) });
    const cells = pages.flatMap(({ cells }) => cells);
    assert.deepEqual(cells.map(({ index }) => index), pictures.map((_, i) => i));
    for (const page of pages) {
      const boxes = page.cells.flatMap(({ picture, words }) => [picture, words]);
      for (const [i, box] of boxes.entries()) {
        assert.ok(Object.values(box).every(Number.isInteger), JSON.stringify(box));
        assert.ok(box.x >= 0 && box.y >= 0 && box.x + box.width <= page.width && box.y + box.height <= page.height, JSON.stringify({ page: [page.width, page.height], box }));
        for (const other of boxes.slice(i + 1)) {
          const apart = box.x + box.width <= other.x || other.x + other.width <= box.x || box.y + box.height <= other.y || other.y + other.height <= box.y;
          if (!apart) assert.fail(JSON.stringify([box, other]));
        }
      }
      for (const { picture, words } of page.cells) assert.ok(words.x === picture.x && words.y === picture.y + picture.height);
    }
    for (const { index, picture } of cells) {
      const full = pictures[index];
      // Never enlarged; its sides are within half a pixel of its shape.
      const scale = Math.max(picture.width / full.width, picture.height / full.height);
      assert.ok(scale <= 1);
      for (const side of ["width", "height"]) assert.ok(Math.abs(picture[side] - Math.max(1, full[side] * scale)) <= 1 + 0.5 * (full[side] / Math.min(full.width, full.height)), JSON.stringify({ full, picture }));
    }
  }
  // ISO 216: A4 is 210 by 297 mm, which is 595 by 842 of PDF's points; US Letter is 612 by 792.
  const points = (kind, sideways) => {
    const [{ width, height }] = contactLayout([{ width: 3, height: 2 }], { paper: { kind, sideways }, columns: 1, lines: 1 }).pages;
    return [width, height].map((pixels) => Math.round(pixels * POINTS_PER_PIXEL));
  };
  assert.deepEqual([points("a4", false), points("a4", true), points("letter", false)], [[595, 842], [842, 595], [612, 792]]);
  assert.equal(cut("Saltmarket", (words) => words.length <= 5), "Salt\u2026");
});
