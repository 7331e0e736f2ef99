// The browser's build and the command line give the same bytes: whole files compared, on real
// frames, with every step of the texture acting, and again with every step of the scan acting.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { unzip } from "../browser/zip.mjs";

const program = process.env.LOOKWRIGHT;
const dist = process.env.LOOKWRIGHT_DIST;
const frames = new URL("../../demo-images/", import.meta.url);
const folder = mkdtempSync(join(tmpdir(), "lookwright-parity-"));

let wasm;
before(async () => {
  assert.ok(program && dist, "LOOKWRIGHT names the program, LOOKWRIGHT_DIST the page's folder");
  wasm = await import(pathToFileURL(join(dist, "pkg/lookwright_wasm.js")));
  wasm.initSync({ module: readFileSync(join(dist, "pkg/lookwright_wasm_bg.wasm")) });
});

const LOOKS = {
  "as it starts": { lookwright: 1 },
  "every texture": {
    lookwright: 1,
    lens: {
      diffusion: { on: true, strength: 0.25 },
      exposure: { stops: 0.4 },
      light: { kelvin: 4300 },
      flare: { on: true },
      fringe: { on: true },
      vignette: { on: true },
      weave: { on: true, breathing: 8 },
    },
    negative: {
      stock: { balance: "day", speed: 250, gauge: "super-16", amount: 1.3 },
      halation: { method: "base-ring", strength: 0.6 },
      development: { push: 1.2 },
      grain: { size: 1.4, seed: 77 },
      dust: { on: true, rate: 60 },
      flicker: { on: true },
    },
  },
  "every move on the scan": {
    lookwright: 1,
    negative: { stock: { balance: "day", speed: 40 }, halation: { method: "veil" } },
    scan: {
      points: { red: 2, blue: -3.25, warmth: 1 },
      contrast: { slope: 2.1, black_drop: 0.8, white_roll: 0.7, toe: 0.2 },
      curves: { red: [[0, 0], [0.6, 0.62], [1, 0.93]], master: [[0, 0.01], [0.3, 0.28], [1, 1]] },
      split_tone: { shadow_tint: 0.4, highlight_tint: 0.3 },
      dye_density: { whole: 0.4, red: 0.3, cyan: -0.2 },
      saturation: { saturation: 1.2 },
    },
    print: { positive: { on: true, amount: 0.6 }, white: { white: "d55" } },
  },
};

const CASES = [
  ["night-ferry.png", "logc3", "rec709"],
  ["visitor.jpg", "srgb", "display-p3"],
];

/** A look, a frame and a delivery, as data or as JSON, for the core. */
function settings(look, frame = {}, delivery = {}) {
  const read = new wasm.RenderSettings();
  read.read(...[look, frame, delivery].map((part) => (typeof part === "string" ? part : JSON.stringify(part))));
  return read;
}

/** A picture's file, developed in parts; `shares`: how much of the first one was done after each strip. */
function developed(picture, read, format, quality, count = 1) {
  const { width, height } = picture.info();
  const begin = (_, index) => wasm.PicturePart.begin(read, format, quality, width, height, index, count, 0);
  const parts = Array.from({ length: count }, begin);
  const files = parts.map(() => []);
  const shares = [];
  for (let going = true; going; ) {
    parts.forEach((part, i) => {
      const needs = part.needs();
      for (let at = 0; at < needs.length; at += 2) {
        const rows = needs[at] < needs[at + 1] ? picture.rows(needs[at], needs[at + 1]) : new Uint8Array();
        files[i].push(part.step(picture.sample_bits(), rows));
        if (i === 0) shares.push(part.done());
      }
    });
    for (const layer of parts[0].gathers() ? [0, 1, 2] : []) {
      for (const level of [1, 2]) {
        const ranges = parts.map((part) => part.halo_ranges(layer, level));
        for (const [from, [own, ownEnd]] of ranges.entries()) {
          for (const [to, [, , wanted, wantedEnd]] of ranges.entries()) {
            const [first, end] = [Math.max(own, wanted), Math.min(ownEnd, wantedEnd)];
            if (from !== to && first < end) parts[to].write_halo(layer, level, first, parts[from].read_halo(layer, level, first, end));
          }
        }
      }
      for (const part of parts) part.close_halo(layer);
    }
    for (const part of parts) going = part.next_round();
  }
  parts.forEach((part, i) => files[i].push(part.finish()));
  return { saved: Buffer.concat(files.flat()), shares };
}

for (const [name, look] of Object.entries(LOOKS)) {
  for (const [file, from, to] of CASES) {
    test(`${file} through ${name}`, () => {
      const input = new URL(file, frames);
      const lookFile = join(folder, "look.json");
      const out = join(folder, "native.png");
      writeFileSync(lookFile, JSON.stringify(look));
      execFileSync(program, ["render", lookFile, input.pathname, "--overwrite", "-o", out, "--from", from, "--to", to, "--depth", "16"]);
      const picture = wasm.Picture.open(readFileSync(input), file);
      const read = settings(look, { source: { encoding: from } }, { display: { screen: to } });
      const { saved, shares } = developed(picture, read, "png16", 90);
      picture.free();
      assert.ok(shares.length > 0 && shares.every((share, i) => share <= 1 && share >= (shares[i - 1] ?? 0)), shares.join(" "));
      const native = readFileSync(out);
      assert.ok(native.length > 100_000, "a picture of some size");
      assert.ok(native.equals(saved), "the two files differ");
    });
  }

  test(`plates of ${name}`, () => {
    const input = new URL("night-ferry.png", frames);
    const lookFile = join(folder, "look.json");
    writeFileSync(lookFile, JSON.stringify(look));
    const picture = wasm.Picture.open(readFileSync(input), "night-ferry.png");
    const read = settings(look, { source: { encoding: "logc3" } });
    const made = (kind) => Buffer.from(wasm.picture_plate(picture, read, kind));
    const { width, height } = picture.info();
    execFileSync(program, ["plate", lookFile, "--kind", "grain", "--size", `${width}x${height}`, "--frames", "1", "--overwrite", "-o", folder]);
    const grain = unzip(made("grain"));
    for (const file of ["grain.0001.png", "gain.cube", "blend.txt"]) assert.ok(readFileSync(join(folder, file)).equals(grain.get(file)), `${file} differs`);
    const halation = join(folder, "halation.png");
    execFileSync(program, ["plate", lookFile, "--kind", "halation", "--picture", input.pathname, "--from", "logc3", "--overwrite", "-o", halation]);
    assert.ok(readFileSync(halation).equals(made("halation")), "the halation differs");
    picture.free();
  });

  test(`visitor.jpg through ${name}, as JPEG`, () => {
    const input = new URL("visitor.jpg", frames);
    const lookFile = join(folder, "look.json");
    const out = join(folder, "native.jpg");
    writeFileSync(lookFile, JSON.stringify(look));
    execFileSync(program, ["render", lookFile, input.pathname, "--overwrite", "-o", out, "--from", "srgb", "--to", "srgb", "--quality", "88"]);
    const picture = wasm.Picture.open(readFileSync(input), "visitor.jpg");
    const read = settings(look, {}, { display: { screen: "srgb" } });
    for (const count of [1, 2, 3]) {
      const { saved } = developed(picture, read, "jpeg", 88, count);
      assert.ok(readFileSync(out).equals(saved), `the two files differ, in ${count} parts`);
    }
    picture.free();
  });

  test(`the table of ${name}`, () => {
    const lookFile = join(folder, "look.json");
    const out = join(folder, "native.cube");
    writeFileSync(lookFile, JSON.stringify(look));
    execFileSync(program, ["table", lookFile, "--from", "vlog", "--grid", "17", "--overwrite", "-o", out]);
    const table = wasm.cube_table(settings(look), "vlog", 17);
    assert.ok(readFileSync(out, "utf8") === table, "the two tables differ");
  });
}

test("bad input comes back as one sentence and leaves the module usable", () => {
  assert.throws(() => wasm.open_picture(new Uint8Array([1, 2, 3]), "x.png"), /./);
  assert.throws(() => settings("{}"), /lookwright/);
  assert.match(wasm.cube_table(settings({ lookwright: 1 }), "vlog", 2), /LUT_3D_SIZE 2/);
});

test("what the page begins with shows the same pixels as the whole core", async () => {
  const first = await import(pathToFileURL(join(dist, "pkg/first/lookwright_wasm_first.js")));
  first.initSync({ module: readFileSync(join(dist, "pkg/first/lookwright_wasm_first_bg.wasm")) });
  const [file, from, to] = CASES[0];
  const bytes = readFileSync(new URL(file, frames));
  for (const look of Object.values(LOOKS)) {
    const [a, b] = [[first, first.Picture.open], [wasm, wasm.open_picture]].map(([core, open]) => {
      const settings = new core.RenderSettings();
      settings.read(...[look, { source: { encoding: from } }, { display: { screen: to } }].map((part) => JSON.stringify(part)));
      const picture = open(bytes, file);
      return [true, false].map((quick) => Buffer.from(picture.preview(settings, "screen", 300, 169, quick)));
    });
    assert.deepEqual(a, b);
  }
  // The common formats are read by both, the others are known by their first bytes.
  assert.equal(first.Picture.needs_whole(bytes.subarray(0, 64)), false);
  assert.equal(first.Picture.needs_whole(new Uint8Array([0x76, 0x2f, 0x31, 0x01])), true);
  assert.equal(first.Picture.needs_whole(new Uint8Array([1, 2, 3])), false);
});
