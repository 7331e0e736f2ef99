// How much memory a process and all below it take.
import { readFile, readdir } from "node:fs/promises";

/** A process and all below it, in MiB: each page of memory counted once. */
export async function memoryOf(pid) {
  const parents = new Map();
  for (const name of await readdir("/proc")) {
    if (!/^\d+$/.test(name)) continue;
    const stat = await readFile(`/proc/${name}/stat`, "utf8").catch(() => "");
    parents.set(Number(name), Number(stat.slice(stat.lastIndexOf(")") + 2).split(" ")[1]));
  }
  const below = (id) => id === pid || (parents.has(id) && parents.get(id) > 1 && below(parents.get(id)));
  let kib = 0;
  for (const id of parents.keys()) {
    if (!below(id)) continue;
    const rollup = await readFile(`/proc/${id}/smaps_rollup`, "utf8").catch(() => "");
    kib += Number(/^Pss:\s+(\d+)/m.exec(rollup)?.[1] ?? 0);
  }
  return Math.round(kib / 1024);
}
