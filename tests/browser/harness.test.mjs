// The helpers themselves: a helper that sees nothing would let every other test pass.
import assert from "node:assert/strict";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { BLANK, inEachBrowser, inOneBrowser } from "./harness.mjs";

const blank = { folder: BLANK };

const BYTES = Uint8Array.from({ length: 300 }, (_, index) => index % 256);

inEachBrowser("a dropped file arrives with its name, type and bytes", async (session) => {
  await session.page.evaluate(() => {
    document.body.addEventListener("drop", async (event) => {
      const [file] = event.dataTransfer.files;
      const bytes = [...new Uint8Array(await file.arrayBuffer())];
      globalThis.dropped = { name: file.name, type: file.type, bytes };
    });
  });
  await session.drop("body", { name: "ferry.png", type: "image/png", bytes: BYTES });
  await session.page.waitForFunction(() => globalThis.dropped);
  const dropped = await session.page.evaluate(() => globalThis.dropped);
  assert.deepEqual(dropped, { name: "ferry.png", type: "image/png", bytes: [...BYTES] });
}, blank);

inEachBrowser("a chosen file arrives with its name and bytes", async (session) => {
  const path = join(session.scratch, "quay.bin");
  await writeFile(path, BYTES);
  await session.page.evaluate(() => {
    const input = document.createElement("input");
    Object.assign(input, { type: "file", id: "chosen-by-test", hidden: true });
    document.body.append(input);
  });
  await session.choose("#chosen-by-test", path);
  const chosen = await session.page.$eval("#chosen-by-test", async (input) => {
    const [file] = input.files;
    return { name: file.name, bytes: [...new Uint8Array(await file.arrayBuffer())] };
  });
  assert.deepEqual(chosen, { name: "quay.bin", bytes: [...BYTES] });
}, blank);

inEachBrowser("downloads are collected one by one", async (session) => {
  const save = (name, values) =>
    session.page.evaluate(
      (download, bytes) => {
        const href = URL.createObjectURL(new Blob([Uint8Array.from(bytes)]));
        Object.assign(document.createElement("a"), { href, download }).click();
      },
      name,
      [...values],
    );
  await save("one.cube", BYTES);
  const one = await session.downloads.next(/\.cube$/);
  assert.equal(one.name, "one.cube");
  assert.deepEqual([...one.bytes], [...BYTES]);
  await save("one.cube", [7]);
  const again = await session.downloads.next(/\.cube$/);
  assert.deepEqual([again.name, ...again.bytes], ["one.cube", 7]);
  await assert.rejects(session.downloads.next(/\.cube$/, 300), /no download matches/);
}, blank);

inEachBrowser("problems are seen", async (session) => {
  await session.page.evaluate(() => {
    console.error("said aloud");
    setTimeout(() => {
      throw new Error("thrown late");
    });
  });
  await session.page.evaluate(() => fetch("missing.bin"));
  for (const expected of [/console: said aloud/, /page error: .*thrown late/, /404: .*missing\.bin/]) {
    await session.expectProblem(expected);
  }
  session.problems.length = 0;
}, blank);

inOneBrowser("what a worker says and a crash are seen", async (session) => {
  await session.page.evaluate(() => void new Worker("worker.js"));
  await session.expectProblem(/^console: said in a worker$/);
  session.page.goto("chrome://crash").catch(() => {});
  await session.expectProblem(/^crash: /);
  session.problems.length = 0;
}, blank);

inOneBrowser("faults of accessibility are found", async (session) => {
  await session.page.evaluate(() => {
    document.body.innerHTML = '<main id="faulty"><img src="data:," width="9" height="9"></main>';
  });
  const faults = await session.accessibilityFaults("#faulty");
  assert.ok(faults.some((fault) => fault.startsWith("image-alt:")), faults.join("\n"));
  session.problems.length = 0;
}, blank);
