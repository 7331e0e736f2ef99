// Many runs over all that may take work away: a killed browser, a full store, two tabs, links, the
// first release's store, records that this release does not know. A loss counts if the page had
// said that what is lost was kept. By hand: node runs.mjs [runs] [browser] [scene]; one of each runs
// with the tests.
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { KINDS } from "./launch.mjs";
import { Machine, leanPage } from "./runs/machine.mjs";
import { SCENES, chancesOf } from "./runs/scenes.mjs";
import { startServer } from "./server.mjs";

/**
 * @param {string} kind one of KINDS
 * @param {{ runs: number, scenes?: string[], first?: number, say?: (line: string) => void }} how first: the first run's number
 * @returns {Promise<Record<string, { runs: number, broken: string[], lost: string[] }>>} by scene; broken: runs
 *   that did not come to their end
 */
export async function run(kind, { runs, scenes = Object.keys(SCENES), first = 0, say = () => {} }) {
  const folder = await leanPage();
  const server = await startServer(folder);
  const table = Object.fromEntries(scenes.map((scene) => [scene, { runs: 0, broken: [], lost: [] }]));
  let machine = await Machine.make(kind, server.url);
  try {
    for (let i = first; i < first + runs; i += 1) {
      const scene = scenes[i % scenes.length];
      const begin = Date.now();
      let lost = [];
      table[scene].runs += 1;
      try {
        await machine.clear();
        lost = await SCENES[scene](machine, chancesOf(i));
      } catch (error) {
        table[scene].broken.push(`run ${i}: ${error.message}`);
        say(`${kind} ${i} ${scene}: broke off: ${error.stack}`);
        await machine.end();
        machine = await Machine.make(kind, server.url);
        continue;
      }
      if (machine.refused > 0) say(`${kind} ${i} ${scene}: ${machine.refused} not kept, as was said`);
      machine.refused = 0;
      table[scene].lost.push(...lost.map((what) => `run ${i}: ${what}`));
      say(`${kind} ${i} ${scene}: ${lost.length === 0 ? "nothing lost" : lost.join("; ")} (${Date.now() - begin} ms)`);
    }
  } finally {
    await machine.end();
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
  return table;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [runs = "14", browser, scene, first = "0"] = process.argv.slice(2);
  for (const kind of KINDS.filter((it) => !browser || it === browser)) {
    const table = await run(kind, { runs: Number(runs), first: Number(first), say: console.log, ...(scene ? { scenes: scene.split(",") } : {}) });
    console.table(Object.fromEntries(Object.entries(table).map(([name, { runs: count, broken, lost }]) => [name, { runs: count, "broke off": broken.length, losses: lost.length }])));
    for (const line of Object.values(table).flatMap(({ broken, lost }) => [...broken, ...lost])) console.log(line);
  }
}
