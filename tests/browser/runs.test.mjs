// One run of each scene that may take work away, by turns in one browser and the other.
import assert from "node:assert/strict";
import { test } from "node:test";
import { ALL_KINDS, KINDS } from "./launch.mjs";
import { run } from "./runs.mjs";
import { SCENES } from "./runs/scenes.mjs";

for (const kind of KINDS) {
  const scenes = Object.keys(SCENES).filter((_, i) => ALL_KINDS[i % ALL_KINDS.length] === kind);
  test(`nothing that was said to be kept is lost: ${scenes.join(", ")} (${kind})`, async () => {
    const table = await run(kind, { runs: scenes.length, scenes });
    const faults = Object.values(table).flatMap(({ broken, lost }) => [...broken, ...lost]);
    assert.deepEqual(faults, []);
    assert.deepEqual(Object.values(table).map(({ runs }) => runs), scenes.map(() => 1));
  });
}
