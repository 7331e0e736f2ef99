// The page works without a network after the first visit.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { ready, settled, shownPixels } from "./desk.mjs";
import { Session, copyOfPage, stopServing } from "./harness.mjs";
import { KINDS } from "./launch.mjs";

for (const kind of KINDS) {
  test(`what was seen once is there without a network (${kind})`, async () => {
    const folder = await copyOfPage(await mkdtemp(join(tmpdir(), "lookwright-page-")));
    const session = await Session.open(kind, { folder });
    try {
      await ready(session);
      await settled(session);
      const before = await shownPixels(session, "after");
      await session.page.waitForFunction(async () => {
        const [name] = await caches.keys();
        if (!name) return false;
        const kept = (await (await caches.open(name)).keys()).map(({ url }) => url);
        // Workers load modules that the page itself does not, and they are listed.
        const listed = (await (await fetch("files.json")).json()).map((path) => new URL(path, location.href).href);
        const loaded = performance.getEntriesByType("resource").map((entry) => entry.name);
        const needed = [location.href, ...listed, ...loaded].map((url) => url.split("#")[0]);
        return needed.filter((url) => url.startsWith(location.origin)).every((url) => kept.includes(url));
      });
      await stopServing(folder);
      await session.page.reload({ waitUntil: "load" });
      await ready(session);
      await settled(session);
      assert.deepEqual(await shownPixels(session, "after"), before);
    } catch (error) {
      await session.keepPicture(`offline ${kind}`).catch(() => {});
      throw error;
    } finally {
      await session.close();
      await rm(folder, { recursive: true, force: true });
    }
  });
}
