// The page opens, its core loads, and its content policy holds.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { address, inEachBrowser } from "./harness.mjs";

inEachBrowser("the page opens and its core loads", async (session) => {
  const manifest = await readFile(new URL("../../Cargo.toml", import.meta.url), "utf8");
  const [, expected] = /^version = "([^"]+)"/m.exec(manifest);
  const version = await session.page.evaluate(async () => {
    const core = await import(new URL("pkg/lookwright_wasm.js", document.baseURI).href);
    await core.default();
    return core.version();
  });
  assert.equal(version, expected);
});

inEachBrowser("the policy stops whatever would leave this machine", async (session) => {
  const outcome = await session.page.evaluate(async () => {
    const picture = new Image();
    const blocked = new Promise((resolve) => picture.addEventListener("error", resolve));
    picture.src = "http://127.0.0.1:9/pixel.png";
    await blocked;
    return fetch("http://127.0.0.1:9/").then(
      () => "sent",
      () => "stopped",
    );
  });
  assert.equal(outcome, "stopped");
  for (const directive of ["connect-src", "img-src"]) {
    await session.expectProblem(new RegExp(`policy violation: ${directive}`));
  }
  session.problems.length = 0;
});

test("the server sends what browsers insist on", async () => {
  const url = await address();
  const page = await fetch(url);
  assert.equal(page.headers.get("content-type"), "text/html; charset=utf-8");
  assert.equal(page.headers.get("x-content-type-options"), "nosniff");
  assert.match(page.headers.get("content-security-policy"), /^default-src 'self';/);
  const wasm = await fetch(`${url}pkg/lookwright_wasm_bg.wasm`);
  assert.equal(wasm.headers.get("content-type"), "application/wasm");
  const again = await fetch(`${url}pkg/lookwright_wasm_bg.wasm`, {
    headers: { "If-None-Match": wasm.headers.get("etag") },
  });
  assert.equal(again.status, 304);
  assert.equal((await fetch(`${url}missing`)).status, 404);
  assert.equal((await fetch(url, { method: "POST", body: "x" })).status, 405);
  const head = await fetch(`${url}pkg/lookwright_wasm_bg.wasm`, { method: "HEAD" });
  assert.equal(head.status, 200);
  assert.equal((await head.arrayBuffer()).byteLength, 0);
});

test("the licences of what is inside go with the page", async () => {
  const licences = await fetch(new URL("licences.txt", await address()));
  assert.equal(licences.headers.get("content-type"), "text/plain; charset=utf-8");
  const text = await licences.text();
  for (const named of ["wasm-bindgen", "moxcms", "Independent JPEG Group"]) assert.ok(text.includes(named), named);
});
