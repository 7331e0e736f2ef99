// What the core answers has the shape that the page's types give it: real answers, written out as
// constants of those types, go through the TypeScript compiler.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

const dist = process.env.LOOKWRIGHT_DIST;
const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const web = here("../../web/");
const folder = here("../../target/answers/");

let wasm;
before(async () => {
  assert.ok(dist, "LOOKWRIGHT_DIST names the page's folder");
  wasm = await import(pathToFileURL(join(dist, "pkg/lookwright_wasm.js")));
  wasm.initSync({ module: readFileSync(join(dist, "pkg/lookwright_wasm_bg.wasm")) });
});

/** A value as a TypeScript literal: what JSON has no word for is written as it is. */
function literal(value) {
  if (Array.isArray(value)) return `[${value.map(literal).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    return `{ ${Object.entries(value).map(([key, it]) => `${JSON.stringify(key)}: ${literal(it)}`).join(", ")} }`;
  }
  return typeof value === "number" ? String(value) : (JSON.stringify(value) ?? "undefined");
}

/** What the compiler says of constants of these types. */
function complaints(constants) {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, "answers.ts");
  const lines = Object.entries(constants).map(([type, value], i) => `export const answer${i}: Page.${type} = ${literal(value)};`);
  writeFileSync(file, [`import type * as Page from ${JSON.stringify(join(web, "types.js"))};`, ...lines, ""].join("\n"));
  const options = ["--noEmit", "--strict", "--exactOptionalPropertyTypes", "--target", "es2022", "--module", "es2022", "--moduleResolution", "bundler", "--lib", "es2022,dom"];
  try {
    execFileSync(process.execPath, [join(web, "node_modules/typescript/bin/tsc"), ...options, file], { encoding: "utf8" });
    return "";
  } catch (error) {
    return error.stdout;
  }
}

/** Settings that leave nothing of a look out. */
function answers() {
  const look = { lookwright: 1, name: "Harbour", scan: { contrast: { slope: 1.9 }, curves: { master: [[0, 0.02], [1, 1]] } } };
  const settings = new wasm.RenderSettings();
  settings.read(JSON.stringify(look), "{}", "{}");
  const bytes = readFileSync(here("../../demo-images/visitor.jpg"));
  const picture = wasm.Picture.open(bytes, "visitor.jpg");
  const [width, height] = [320, 180];
  const chart = wasm.Picture.open(readFileSync(here("../../demo-images/chart-24.png")), "chart-24.png").small_copy(width, height);
  const request = {
    looks: [JSON.stringify(look)],
    encodings: ["logc3"],
    stocks: ["evening"],
    splits: ["whole"],
    scene: ["acescct"],
    undo: ["plain"],
    formats: ["cube"],
    grid: 17,
    screen: "rec709",
    outRanges: ["full"],
  };
  const texts = wasm.read_look(JSON.stringify(look));
  return {
    Catalogue: { ...wasm.catalogue(), handOver: wasm.hand_over_choices(), judging: wasm.judging() },
    ReadLook: { ...texts, look: JSON.parse(texts.canonical) },
    ChartAnswer: wasm.check_chart(chart, width, height, settings),
    Diagram: wasm.chromaticity_diagram(),
    ScanScale: wasm.scan_scale(settings, "contrast"),
    PictureInfo: picture.info(),
    "TraceRow[]": picture.trace(settings, 3, 4, 1),
    PackPlan: wasm.pack_plan(request),
    Health: wasm.pack_health(request, 0),
    TableHealth: wasm.check_table(new TextEncoder().encode(wasm.cube_table(settings, "logc3", 17)), "a.cube", settings),
    PackRequest: request,
  };
}

test("what the core answers is what the page's types say", () => {
  assert.equal(complaints(answers()), "");
});

test("an answer of another shape is told", () => {
  const { PackPlan, Health } = answers();
  assert.match(complaints({ PackPlan: { ...PackPlan, tables: "two" } }), /'string' is not assignable to type 'number'/);
  assert.match(complaints({ Health: { ...Health, mood: 1 } }), /mood.* does not exist/);
});
