// How soon the page is of use on a thin line: an empty cache, 4 Mbit/s and 40 ms by Chromium's own throttling, from a
// host that packs as it may: `node thin-line.mjs br`, `gzip` or `plain`.
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";
import { launch } from "./launch.mjs";

const LINE = { download: (4e6 / 8) | 0, upload: (1e6 / 8) | 0, latency: 40 };
const TYPES = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".json": "application/json", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".jpg": "image/jpeg", ".png": "image/png", ".webmanifest": "application/manifest+json", ".txt": "text/plain" };
const PACKED = [".html", ".js", ".css", ".json", ".wasm", ".svg", ".webmanifest", ".txt"];
const PACKERS = {
  br: (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24 } }),
  gzip: (bytes) => gzipSync(bytes, { level: 9 }),
};

const dist = process.env.LOOKWRIGHT_DIST;
const how = process.argv[2] ?? "br";
const kept = new Map();

async function answered(path) {
  const file = normalize(join(dist, path === "/" ? "index.html" : path));
  if (!file.startsWith(dist)) throw new Error("outside");
  if (!kept.has(file)) {
    const bytes = await readFile(file);
    const pack = PACKERS[how];
    const packs = pack && PACKED.includes(extname(file));
    kept.set(file, { body: packs ? pack(bytes) : bytes, headers: { "Content-Type": TYPES[extname(file)] ?? "application/octet-stream", ...(packs ? { "Content-Encoding": how } : {}) } });
  }
  return kept.get(file);
}

const server = createServer(async ({ url }, response) => {
  try {
    const { body, headers } = await answered(decodeURIComponent(new URL(url, "http://x").pathname));
    response.writeHead(200, { ...headers, "Content-Length": body.length });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
});
await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
const address = `http://127.0.0.1:${server.address().port}/`;
// Packed before it is timed.
for (const file of ["/", "/js/main.js", "/js/core.js", "/css/page.css", ...JSON.parse(await readFile(join(dist, "files.json"))).files.map((it) => `/${it}`)]) await answered(file);

const rounds = [];
for (let round = 0; round < 3; round += 1) {
  const { newContext, close } = await launch("chromium");
  const page = await (await newContext()).newPage();
  await page.setViewport({ width: 1440, height: 900 });
  const client = await page.createCDPSession();
  await client.send("Network.enable");
  await client.send("Network.setCacheDisabled", { cacheDisabled: false });
  await client.send("Network.emulateNetworkConditions", { offline: false, latency: LINE.latency, downloadThroughput: LINE.download, uploadThroughput: LINE.upload });
  const files = new Map();
  const begin = performance.now();
  let total = 0;
  client.on("Network.responseReceived", ({ requestId, response }) => files.set(requestId, { url: response.url.replace(address, "/") }));
  client.on("Network.loadingFinished", ({ requestId, encodedDataLength }) => {
    const file = files.get(requestId);
    total += encodedDataLength;
    if (file) Object.assign(file, { bytes: encodedDataLength, at: Math.round(performance.now() - begin), total });
  });
  await page.evaluateOnNewDocument(() => {
    new MutationObserver(() => {
      const first = document.querySelector(".first-picture");
      if (first && !globalThis.useful) {
        globalThis.useful = -1;
        first.decode().then(() => requestAnimationFrame(() => (globalThis.useful = performance.now())), () => {});
      }
      if (document.documentElement?.dataset.ready !== undefined && !globalThis.picture) globalThis.picture = performance.now();
    }).observe(document, { childList: true, subtree: true, attributes: true });
  });
  await page.goto(address, { waitUntil: "domcontentloaded" });
  await page.waitForFunction(() => globalThis.picture, { timeout: 120_000 });
  const { useful, picture } = await page.evaluate(() => ({ useful: globalThis.useful, picture: globalThis.picture }));
  const before = [...files.values()].filter(({ at }) => at !== undefined);
  rounds.push({ useful: Math.round(useful), picture: Math.round(picture), kilobytes: Math.round(Math.max(...before.map((it) => it.total)) / 1000) });
  if (round === 0) for (const { url, bytes, at } of before) console.log(String(at).padStart(6), String(bytes).padStart(9), url);
  await close();
}
console.log(how, JSON.stringify(rounds));
server.close();
process.exit(0);
