// A few of the runs over what may take work away; many are made by hand: see runs.mjs.
import assert from "node:assert/strict";
import { test } from "node:test";
import { KINDS } from "./launch.mjs";
import { run } from "./runs.mjs";

/** A killed browser, a page that is left at once, a record that is not known. */
const RUNS = 3;

for (const kind of KINDS) {
  test(`nothing is lost that the page called kept (${kind})`, async () => {
    const table = await run(kind, RUNS);
    assert.deepEqual(Object.values(table).flatMap(({ lost }) => lost), []);
  });
}
