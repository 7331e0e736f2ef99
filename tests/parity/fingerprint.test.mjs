// A look's fingerprint is the same by the core and by the client's page, which makes its own.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { fingerprintOf } from "../../web/js/pure/review/fingerprint.js";

const looks = new URL("../../web/looks/", import.meta.url);
const dist = process.env.LOOKWRIGHT_DIST;

let wasm;
before(async () => {
  assert.ok(dist, "LOOKWRIGHT_DIST names the page's folder");
  wasm = await import(pathToFileURL(join(dist, "pkg/lookwright_wasm.js")));
  wasm.initSync({ module: readFileSync(join(dist, "pkg/lookwright_wasm_bg.wasm")) });
});

test("fingerprints of looks are the same by the core and by the page", () => {
  const files = readdirSync(looks).filter((name) => name !== "index.json");
  const texts = files.map((name) => readFileSync(new URL(name, looks), "utf8"));
  // Numbers whose shortest form is long, or has an exponent.
  texts.push('{"lookwright":2,"lens":{"exposure":{"stops":0.30000000000000004}}}', '{"lookwright":2,"scan":{"points":{"red":1e-7}}}');
  for (const text of texts) {
    const { canonical, fingerprint, model } = wasm.read_look(text);
    assert.equal(fingerprintOf(JSON.parse(canonical), model), fingerprint, text.slice(0, 80));
  }
});
