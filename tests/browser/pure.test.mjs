// The page's modules that need no browser.
import assert from "node:assert/strict";
import { test } from "node:test";
import { withGlow, withNoise } from "../../web/js/pure/afterwards.js";
import { parse } from "../../web/js/pure/arithmetic.js";
import { markedAt, shiftSaid } from "../../web/js/pure/chart.js";
import { healthLines, sizeSaid, tablesSaid } from "../../web/js/pure/health.js";
import { arrive, begin, onReel, record, redo, settle, undo } from "../../web/js/pure/history.js";
import { changeBetween, docsOf, historyOf } from "../../web/js/pure/kept/changes.js";
import { mended } from "../../web/js/pure/kept/check.js";
import { fitted, lengthOf, shortened } from "../../web/js/pure/kept/limits.js";
import { outOfReach } from "../../web/js/pure/kept/reach.js";
import { hasWork, readRecord } from "../../web/js/pure/kept/record.js";
import { matchSaid, moveSaid } from "../../web/js/pure/looks/matched.js";
import { suggestionSaid } from "../../web/js/pure/looks/suggestion.js";
import { added, drawn, moved, removed, stored } from "../../web/js/pure/points.js";
import { pointSaid, screenSaid, stopsSaid } from "../../web/js/pure/scan-words.js";
import { finer, format, fromPosition, round, tidy, toPosition } from "../../web/js/pure/scale.js";
import { fitScale, placed, seen, zoomed } from "../../web/js/pure/viewport.js";
import { buffersOf } from "../../web/js/worker/transfer.js";

const number = (more) => ({ kind: "number", id: "n", label: "N", help: "", unit: "", min: 0, max: 1, step: 0.01, whole: false, scale: "linear", default: 0, neutral: 0, ...more });
const KELVIN = number({ min: 2000, max: 12000, step: 50, scale: "mired", default: 5500, neutral: 5500 });

test("a slider's place and its value are each other's inverse on every scale", () => {
  for (const control of [number({}), KELVIN, number({ min: 5, max: 1000, step: 1, scale: "ratio" })]) {
    for (let i = 0; i <= 40; i += 1) {
      const value = round(control, control.min + ((control.max - control.min) * i) / 40);
      assert.equal(fromPosition(control, toPosition(control, value)), value);
    }
  }
});

test("equal steps on the mired scale are equal steps of 1e6 / K", () => {
  // The mired is 1e6 / K by definition; 3200 K and 5500 K lie at 312.5 and 181.8.
  const share = (toPosition(KELVIN, 5500) - toPosition(KELVIN, 3200)) / (1e6 / 3200 - 1e6 / 5500);
  assert.ok(Math.abs(share - 1 / (1e6 / 2000 - 1e6 / 12000)) < 1e-12);
});

test("what a still asks for is said with its error, and how sure it is", () => {
  const control = (id, label, more) => number({ id, label, ...more });
  const step = { id: "contrast", label: "Contrast", controls: [control("slope", "Slope", { unit: "x", max: 4, default: 1.93 })] };
  const light = { id: "light", label: "Light balance", controls: [{ ...KELVIN, id: "kelvin", label: "Light", unit: "K" }] };
  const catalogue = { stages: [{ id: "scan", steps: [step] }, { id: "lens", steps: [light] }] };
  const slope = { stage: "scan", step: "contrast", control: "slope", values: [1.93, 1.61], error: 0.0234 };
  assert.deepEqual(moveSaid(catalogue, slope), { name: "Contrast: slope", change: "1.93 to 1.61\u00d7", error: "\u00b1 0.02 \u00d7" });
  const kelvin = { stage: "lens", step: "light", control: "kelvin", values: [5500, 4200], error: 12 };
  assert.deepEqual(moveSaid(catalogue, kelvin), { name: "Light balance: light", change: "5500 to 4200 K", error: "" });
  const found = { look: "", moves: [slope], samePicture: true, distance: [8.23, 0.38], sure: 0.97, left: [] };
  assert.match(matchSaid(found).join(" "), /8\.2 dE2000 apart on average, 0\.4 with these moves.*Sure: 97 %/);
  assert.match(matchSaid({ ...found, samePicture: false, sure: 0.2 }).join(" "), /something else.*A guess: 20 %/);
  assert.equal(matchSaid({ ...found, moves: [] }).length, 1);
});

test("numbers are read as people type them and written without stray digits", () => {
  const stops = number({ min: -6, max: 6, step: 0.05 });
  assert.equal(round(stops, 0.1 + 0.2), 0.3);
  assert.equal(format(stops, -0.3), "\u22120.30");
  assert.equal(format(stops, 0.3), "+0.30");
  assert.equal(format(stops, 0), "0.00");
  // What is finer than the step is shown, not rounded to nothing.
  assert.equal(format(stops, 0.008), "+0.008");
  assert.equal(format(stops, tidy(stops, 1 / 3)), "+0.3333");
  assert.equal(tidy(stops, 100), 6);
  assert.equal(tidy(number({ whole: true, max: 9 }), 2.6), 3);
});

test("a tenth of a step leaves no stray digits, and whole numbers have none", () => {
  assert.equal(round(finer(number({ min: -6, max: 6, step: 0.05 })), 0.1234), 0.125);
  assert.equal(finer(number({ step: 0.3 })).step, 0.03);
  assert.equal(finer(number({ whole: true, step: 1 })).step, 1);
});

test("a sum can be typed where a number stands", () => {
  const typed = { "2*1.2": 2.4, "+1/3": 1 / 3, " +1,5 stops": 1.5, "\u22120.25": -0.25, "6500K": 6500, "(1 + 2) * -3": -9, "10 - 2 - 3": 5, "0.5\u00d7": 0.5, "5 \u00b5m": 5, "3 \u00d7 2": 6 };
  for (const [text, value] of Object.entries(typed)) assert.ok(Math.abs(parse(text, 7) - value) < 1e-12, `${text}: ${parse(text, 7)}`);
  // What begins with "times" or "divided by" goes on from what stands there.
  assert.equal(parse("*2", 0.4), 0.8);
  assert.equal(parse("/4", 3), 0.75);
  for (const text of ["", "stops", "1 +", "2 * (3", "1 2", "1.2.3", "1/0", "2**3", "alert(1)"]) assert.equal(parse(text, 7), null, text);
});

test("edits of one gesture are undone together, and a new edit ends what could be redone", () => {
  const doc = (slope) => ({ look: { lookwright: 1, scan: { contrast: { slope } } }, delivery: {}, frames: {} });
  let history = begin(doc(1));
  for (const slope of [1.1, 1.2, 1.3]) history = record(history, doc(slope), "slope");
  history = record(settle(history), doc(1.4), "slope");
  assert.equal(history.past.length, 2);
  history = undo(history);
  assert.equal(history.present.look.scan.contrast.slope, 1.3);
  history = undo(history);
  assert.equal(history.present.look.scan.contrast.slope, 1);
  assert.equal(undo(history), history);
  history = redo(history);
  assert.equal(history.future.length, 1);
  // A frame that arrives is in every document, so that undoing leaves its settings alone.
  const settings = { source: { encoding: "logc3" } };
  const arrived = arrive(history, "new", settings);
  assert.equal(arrived.future.length, 1);
  assert.deepEqual(undo(undo(arrived)).present.frames, { new: settings });
  assert.equal(record(history, doc(2)).future.length, 0);
});

test("a curve's points stay ordered and apart, and a straight curve is none", () => {
  const points = drawn([]);
  const bent = added(points, 0.5, 0.7);
  assert.equal(bent.index, 1);
  assert.equal(added(bent.points, 0.501, 0.2), null);
  const pushed = moved(bent.points, 1, 1.4, -3);
  assert.ok(pushed[1][0] < 1 && pushed[1][1] === 0);
  assert.deepEqual(stored(removed(bent.points, 1)), []);
  assert.equal(removed(points, 0).length, 2);
});

test("zooming keeps the point under the pointer where it is", () => {
  const picture = { width: 4000, height: 3000 };
  const pane = { width: 1000, height: 700 };
  const at = { x: 610, y: 420 };
  let view = { wipe: 0.5, before: "intake", after: "screen", scale: "fit", centre: { x: 0.5, y: 0.5 } };
  const under = () => {
    const box = placed(view, picture, pane);
    return [(at.x - box.x) / box.width, (at.y - box.y) / box.height];
  };
  const [x, y] = under();
  for (const scale of [0.5, 1, 2, 0.7]) {
    view = zoomed(view, scale, at, picture, pane, 1);
    assert.ok(Math.abs(under()[0] - x) < 1e-9 && Math.abs(under()[1] - y) < 1e-9, String(scale));
    const part = seen(view, picture, pane);
    assert.ok(part.x >= 0 && part.x + part.width <= picture.width);
  }
  view = zoomed(view, 0.01, at, picture, pane, 1);
  assert.equal(view.scale, "fit");
  assert.equal(placed(view, picture, pane).height, picture.height * fitScale(picture, pane));
});

test("tables with the same worst finding are told together, the worst first", () => {
  const finding = (severity, what) => ({ severity, what, advice: `mend ${what}` });
  const health = (...findings) => ({ worst: findings[0].severity, findings });
  const lines = healthLines([
    { table: "a", health: health(finding("minor", "tint"), finding("info", "folds")) },
    { table: "b", health: health(finding("info", "folds")) },
    { table: "c", health: health(finding("serious", "kink"), finding("minor", "tint")) },
    { table: "d", health: health(finding("minor", "tint")) },
  ]);
  assert.deepEqual(lines.map(({ severity, what, tables }) => [severity, what, tables]), [
    ["serious", "kink", ["c"]],
    ["minor", "tint", ["a", "d"]],
    ["info", "", ["b"]],
  ]);
  assert.equal(tablesSaid(["a", "b", "c", "d"]), "a; b and 2 more");
  assert.deepEqual([300, 46_602, 94_900, 95_000, 900_000, 12_345_678, 2_300_000_000].map(sizeSaid), ["1 kB", "47 kB", "95 kB", "0.1 MB", "0.9 MB", "12 MB", "2.3 GB"]);
});

test("a code between two samples lies between their meanings, and past all light there is none", () => {
  const scale = { stops: [NaN, -1, 0, 2], screen: [0, 0.25, 0.5, 1] };
  assert.equal(stopsSaid(scale, 0.5), "\u22120.5 stops");
  assert.equal(stopsSaid(scale, 2 / 3), "0.0 stops");
  assert.equal(stopsSaid(scale, 1), "+2.0 stops");
  assert.equal(stopsSaid(scale, 0.1), "no exposure gives this code");
  assert.equal(screenSaid(scale, 0.5), "screen 96 of 255");
  assert.equal(pointSaid(scale, 1, 0), "in code 1023, +2.0 stops; out code 0, screen 0 of 255");
  assert.equal(pointSaid(null, 0.5, 1), "in code 512; out code 1023");
});

test("a history is read back from its oldest document and what changed, frames off the reel among it", () => {
  const look = (slope) => ({ lookwright: 1, scan: { contrast: { slope } } });
  let history = begin({ look: look(1), delivery: {}, frames: { a: {}, b: {} } });
  history = record(history, { ...history.present, look: look(2) }, null, "Contrast: slope");
  history = record(history, { ...history.present, frames: { ...history.present.frames, a: { trim: { exposure: 1 } } } });
  history = record(history, { ...history.present, away: ["b"] }, null, "take b off the reel");
  history = undo(history);
  const docs = docsOf(history);
  const changes = docs.slice(1).map((doc, i) => changeBetween(docs[i], doc));
  assert.deepEqual(changes[1], { frames: { a: { trim: { exposure: 1 } } } });
  const back = historyOf(structuredClone(docs[0]), structuredClone(changes), history.past.length);
  const bare = (doc) => ({ ...doc, step: undefined });
  assert.deepEqual(docsOf(back).map(bare), docs.map(bare));
  assert.equal(back.future.length, 1);
  assert.deepEqual(onReel([{ id: "a" }, { id: "b" }], redo(back).present), [{ id: "a" }]);
});

test("names are counted as a person counts, and cut between characters", () => {
  assert.equal(lengthOf("\u{1f39e}".repeat(200)), 200);
  assert.equal(shortened("\u{1f39e}".repeat(200), 200), "\u{1f39e}".repeat(200));
  assert.equal(lengthOf(shortened("\u{1f39e}".repeat(201), 200)), 200);
  assert.deepEqual(fitted({ name: "quay" }), { look: { name: "quay" }, said: "" });
  assert.equal(fitted({ name: "x".repeat(300) }).said, "Its name was shortened to 200 characters.");
});

test("what a release does not know of kept settings is named and left out, the rest stays", () => {
  const step = { id: "contrast", on: true, controls: [number({ id: "slope", max: 4 }), { kind: "choice", id: "kind", options: [{ id: "soft" }], default: "soft" }] };
  const catalogue = { amount: { min: 0, max: 2, default: 1 }, stages: ["intake", "lens", "negative", "scan", "print", "screen"].map((id) => ({ id, steps: [step] })) };
  const doc = {
    look: { lookwright: 3, name: "quay", scan: { contrast: { slope: 2, slant: 1, on: false, amount: 3 }, gone: {} }, print: { contrast: { kind: "hard" } } },
    delivery: {},
    frames: { a: { contrast: { slope: 5 } }, b: { contrast: { kind: "soft" } } },
  };
  const { doc: rest, left } = mended(catalogue, doc);
  assert.deepEqual(left, ["scan.contrast.slant", "scan.contrast.amount", "scan.gone", "print.contrast.kind", "intake.contrast.slope"]);
  assert.deepEqual(rest.look, { lookwright: 3, name: "quay", scan: { contrast: { slope: 2, on: false } }, print: {} });
  assert.deepEqual(rest.frames, { a: {}, b: { contrast: { kind: "soft" } } });
  assert.deepEqual(mended(catalogue, rest).left, []);
  // What releases before this one called "unroll" has become un-render, and goes without a word.
  const before = mended(catalogue, { look: { lookwright: 2 }, delivery: {}, frames: { a: { source: { unroll: 1.5 } } } });
  assert.deepEqual([before.left, before.doc.frames.a], [[], {}]);
});

test("what is added to a finished picture glows about what is bright, and is the same noise on every code", () => {
  const picture = (width, height, code) => ({ width, height, pixels: new Uint8ClampedArray(4 * width * height).map((_, i) => (i % 4 === 3 ? 255 : code(Math.floor(i / 4) % width))) });
  const reds = ({ pixels }) => [...pixels].filter((_, i) => i % 4 === 0);
  // Bright on the left half: the dark half glows red near it alone, and a picture without bright parts stays as it is.
  const half = withGlow(picture(200, 8, (x) => (x < 100 ? 255 : 40)));
  assert.ok(reds(half)[101] > 60 && reds(half)[130] === 40, `${reds(half).slice(95, 112)}`);
  assert.ok(half.pixels[4 * 101] > half.pixels[4 * 101 + 2]);
  const dull = picture(60, 4, () => 150);
  assert.deepEqual(withGlow(dull), dull);
  // Mean and spread are the same on dark and on light: 1.5 % of code.
  for (const code of [70, 180]) {
    const noisy = reds(withNoise(picture(200, 100, () => code))).map((it) => it - code);
    const mean = noisy.reduce((sum, it) => sum + it, 0) / noisy.length;
    const spread = Math.sqrt(noisy.reduce((sum, it) => sum + it * it, 0) / noisy.length);
    assert.ok(Math.abs(mean) < 0.4 && Math.abs(spread - 3.825) < 0.15, `${mean} ${spread}`);
  }
});

test("a patch's move is said the short way round, and of greys without a hue; a mark stays in the picture", () => {
  const at = (l, chroma, degrees) => [l, chroma * Math.cos((degrees * Math.PI) / 180), chroma * Math.sin((degrees * Math.PI) / 180)];
  assert.equal(shiftSaid("red", at(50, 40, 350), at(47, 52, 10)), "red: lightness \u22123, chroma +12, hue +20\u00b0");
  assert.equal(shiftSaid("red", at(50, 40, 10), at(50, 40, 350)), "red: lightness +0, chroma +0, hue \u221220\u00b0");
  assert.equal(shiftSaid("neutral 5", at(51, 0.2, 90), at(53, 1, 270)), "neutral 5: lightness +2, chroma +1");
  const corners = [[0, 0], [1, 0], [1, 1], [0, 1]];
  assert.deepEqual(markedAt(corners, 2, [1.4, -0.1]), [[0, 0], [1, 0], [1, 0], [0, 1]]);
});

test("records of every version are read, and what can't be is told in one sentence", () => {
  const doc = { look: { lookwright: 1 }, delivery: {}, frames: {} };
  const first = { id: "a", reel: [{ id: "f", name: "quay.png", initial: {} }], doc, current: "f", view: { wipe: 7 }, instruments: true };
  const { record: read } = readRecord(first, []);
  assert.deepEqual([read.record, read.current, read.view.wipe, read.position], [3, "f", 0.38, 0]);
  const refused = [[{ ...read, record: 4 }, [], /newer release/], [{ ...read, base: null }, [], /look is missing/], [{ ...read, frames: {} }, [], /list of frames/], [{ ...read, steps: 2 }, [{}], /part of its history/], [null, [], /not there/]];
  for (const [raw, changes, words] of refused) assert.throws(() => readRecord(raw, changes), words);
  // What is attached is given back as it was; versions before had nothing attached.
  const second = { ...read, record: 2, frames: [] };
  delete second.attached;
  assert.deepEqual(readRecord(second, []).record.attached, {});
  assert.deepEqual(readRecord({ ...read, attached: { versions: { v: 8 } } }, []).record.attached, { versions: { v: 8 } });
  const empty = { record: 3, steps: 0, frames: [{ url: "demo/quay.png" }], attached: {} };
  const works = [second, empty, { ...empty, steps: 1 }, { ...empty, attached: { versions: {} } }, { ...empty, record: 9 }, { ...empty, record: undefined }].map(hasWork);
  assert.deepEqual(works, [false, false, true, true, true, true]);
});

test("a frame is out of reach once no step that undo or redo goes to shows it", () => {
  const doc = (...away) => (away.length > 0 ? { away } : {});
  assert.deepEqual([...outOfReach([doc(), doc("a")])], []);
  assert.deepEqual([...outOfReach([doc("a"), doc("a", "b"), doc("b", "a")])], ["a"]);
  assert.deepEqual([...outOfReach([doc("a"), doc("b")])], []);
  // Bringing it back, be it by redo, keeps it.
  assert.deepEqual([...outOfReach([doc("a"), doc("a"), doc()])], []);
});

test("what a frame suggests is said, and nothing is offered where nothing is to be taken", () => {
  const reasons = ["its average lies 1.0 stops below mid-grey, in a range of 6.0 stops", "its light looks like 3200 K", "its light is warm"];
  const found = suggestionSaid({ exposure: 0.85, kelvin: 3200, tint: 0.002, scene: "lamp", reasons });
  assert.equal(found.words, "Exposure +0.85 stops: its average lies 1.0 stops below mid-grey, in a range of 6.0 stops. Light 3200 K: its light looks like 3200 K.");
  assert.deepEqual(found.changes, [["exposure", 0.85], ["kelvin", 3200], ["tint", 0.002]]);
  assert.deepEqual(suggestionSaid({ exposure: 0, kelvin: 5500, tint: 0, scene: "day", reasons }).changes, []);
  assert.match(suggestionSaid({ exposure: -0.4, kelvin: 5500, tint: 0, scene: "day", reasons }).words, /^Exposure \u22120.40 stops/);
});

test("every buffer of an answer is handed over, once, however deep it lies", () => {
  const shared = new ArrayBuffer(8);
  const answer = { copy: { code: new Float32Array(3) }, rows: [new Uint8Array(shared, 4), shared], words: "plain", none: null };
  const found = buffersOf(answer);
  assert.equal(found.length, 2);
  assert.ok(found.includes(shared) && found.includes(answer.copy.code.buffer));
  assert.equal(structuredClone(answer, { transfer: found }).copy.code.length, 3);
  assert.equal(shared.byteLength, 0);
  assert.deepEqual(buffersOf(undefined), []);
});
