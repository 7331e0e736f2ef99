// Times every piece of work in WebAssembly. One line of JSON each, as the native program prints
// them. The clock is that of the process, which stands still while others have the processor.
import { readFileSync } from "node:fs";
import { cpuUsage, version } from "node:process";
import { Timed, all_names, initSync } from "./pkg/lookwright_bench.js";

initSync({ module: readFileSync(new URL("pkg/lookwright_bench_bg.wasm", import.meta.url)) });
console.log(JSON.stringify({ versions: { Node: version } }));

const [width, height] = [2000, 1000];
for (const name of all_names().split("\n")) {
  const work = Timed.named(name, width, height);
  const seconds = [];
  const start = performance.now();
  // The first runs are compiled in haste by the machine; they are not counted.
  for (let run = 0; run < 8 || (run < 60 && performance.now() - start < 3000); run += 1) {
    work.reset();
    const begin = cpuUsage();
    work.run();
    const taken = cpuUsage(begin);
    if (run >= 3) seconds.push((taken.user + taken.system) / 1e6);
  }
  work.free();
  console.log(JSON.stringify({ side: "WebAssembly, Node", name, pixels: width * height, seconds }));
}
