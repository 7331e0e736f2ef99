// The page opens, its core loads, and its content policy holds.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { HtmlValidate } from "html-validate";
import { ready, settled } from "./desk.mjs";
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

inEachBrowser("a first visit is shown a small picture before the core is there, and it is what the page then renders", async (session) => {
  const { page } = session;
  await page.setViewport({ width: 1080 + 316, height: 720 + 176 });
  const first = `${session.url}demo/first.jpg`;
  const bytes = Number((await fetch(first, { method: "HEAD" })).headers.get("content-length"));
  assert.ok(bytes < 160_000, `${bytes} bytes`);
  await ready(session);
  await settled(session);
  assert.equal(await page.$(".first-picture"), null);
  const apart = await page.evaluate(async (url) => {
    const picture = new Image();
    picture.src = url;
    await picture.decode();
    const codes = (source) => {
      const canvas = document.createElement("canvas");
      Object.assign(canvas, { width: 54, height: 36 });
      const context = canvas.getContext("2d");
      context.imageSmoothingQuality = "high";
      context.drawImage(source, 0, 0, 54, 36);
      return context.getImageData(0, 0, 54, 36).data;
    };
    const [small, shown] = [codes(picture), codes(document.querySelector(".side-after .preview"))];
    return small.reduce((sum, code, i) => sum + Math.abs(code - shown[i]), 0) / (54 * 36 * 3);
  }, first);
  assert.ok(apart < 10, `${apart.toFixed(1)} of 255 apart on average; see demo-images/README.md for how it is made`);
});

inEachBrowser("the page is valid HTML as it is written, and as it has built itself", async (session) => {
  await ready(session);
  await settled(session);
  const validator = new HtmlValidate({ extends: ["html-validate:standard"], elements: ["html5"] });
  const written = await readFile(new URL("../../web/index.html", import.meta.url), "utf8");
  const built = await session.page.evaluate(() => `<!DOCTYPE html>${document.documentElement.outerHTML}`);
  for (const [what, html] of [["written", written], ["built", built]]) {
    const { results } = await validator.validateString(html);
    const said = results.flatMap(({ messages }) => messages.map(({ ruleId, message, selector }) => `${what}: ${ruleId}: ${message} (${selector})`));
    assert.deepEqual([...new Set(said)], []);
  }
});
