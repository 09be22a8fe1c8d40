// Bundles the benchmark as the product is bundled and runs it: what a TypeScript loader adds to every call is not measured.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { benchLatency } from "./latency.ts";
import { printed } from "./measure.ts";
import { benchStage } from "./stage.ts";
import { benchManyMoves } from "./thousand.ts";
import { benchWholeWorkspace } from "./workspace.ts";

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const names = process.argv.slice(2);
const only = (name: string): boolean => names.length === 0 || names.includes(name);
const isPart = names.some((name) => ["latency", "stage", "shaping", "workspace"].includes(name));
/** `-- shaping` measures drags alone. */
const entries = [...(isPart ? [] : ["figures"]), ...(only("shaping") ? ["shaping-main"] : [])];
for (const entry of entries) {
  const outfile = at(`../.cache/bench/${entry}.cjs`);
  const options = { outfile, bundle: true, platform: "node", format: "cjs", target: "node20" } as const;
  await build({ entryPoints: [at(`./${entry}.ts`)], ...options });
  const run = spawnSync(process.execPath, [outfile, ...names], { stdio: "inherit" });
  process.exitCode ||= run.status ?? 1;
}

// The server over a real connection, as an editor has it; the server itself is bundled too. `-- latency` measures these alone.
const latencies = [
  () => benchLatency(20, "16"),
  () => benchLatency(200, "40"),
  () => benchLatency(1000, "100"),
  () => benchManyMoves(1000),
];
// The stage in a browser. `-- stage` measures it alone.
const stages = [() => benchStage()];
// The command line on many documents. `-- workspace` measures it alone.
const workspaces = [() => benchWholeWorkspace(1000)];
const measured = [
  ...(only("latency") ? latencies : []),
  ...(only("stage") ? stages : []),
  ...(only("workspace") ? workspaces : []),
];
for (const measure of measured) {
  for (const figure of await measure()) process.stdout.write(printed(figure));
}
