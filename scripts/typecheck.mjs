// Type-checks each folder with its own tsconfig, so that a folder sees only the globals it may use.
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";

const tsc = createRequire(import.meta.url).resolve("typescript/bin/tsc");
const folders = ["core", "protocol", "server/service", "server", "host", "cli", "client", "webview", "bench", "test"];
let failed = 0;
for (const folder of process.argv.length > 2 ? process.argv.slice(2) : folders) {
  // What was checked before and is the same is not checked again.
  const known = ["--incremental", "--tsBuildInfoFile", `.cache/types/${folder.replaceAll("/", "-")}.json`];
  const run = spawnSync(process.execPath, [tsc, "-p", folder, ...known], { stdio: "inherit" });
  if (run.status !== 0) failed += 1;
}
process.exit(failed === 0 ? 0 : 1);
