// The real server of the real page, so that its headers are tested with everything else.
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

/**
 * Serves a folder as it is. LOOKWRIGHT_SERVER names the built server; without it cargo runs it.
 * @param {string} folder
 * @returns {Promise<{url: string, stop: () => Promise<void>}>} url ends with a slash
 */
export async function startServer(folder) {
  const built = process.env.LOOKWRIGHT_SERVER;
  const [program, ...first] = built ? [built] : ["cargo", "xtask"];
  const options = ["--no-build", "--no-open", "--port", "0", "--folder", folder];
  const server = spawn(program, [...first, "serve", ...options], {
    cwd: root,
    // Not handed on as it is: a server that is left over would keep whoever waits for the end of these tests waiting.
    stdio: ["ignore", "pipe", "pipe"],
  });
  server.stderr.pipe(process.stderr, { end: false });
  const ended = new Promise((resolve) => server.once("exit", resolve));
  const url = await new Promise((resolve, reject) => {
    let said = "";
    server.stdout.setEncoding("utf8").on("data", (text) => {
      said += text;
      const address = /http:\/\/[\d.]+:\d+\//.exec(said);
      if (address) resolve(address[0]);
    });
    server.once("error", reject);
    server.once("exit", () => reject(new Error("the server ended without giving its address")));
  });
  return {
    url,
    async stop() {
      server.kill();
      await ended;
    },
  };
}
