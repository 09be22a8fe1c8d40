// Bundles the benchmark as the product is bundled and runs it: what a TypeScript loader adds to every call is not measured.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const entry = fileURLToPath(new URL("./figures.ts", import.meta.url));
const bundle = fileURLToPath(new URL("../.cache/bench/figures.cjs", import.meta.url));
await build({ entryPoints: [entry], outfile: bundle, bundle: true, platform: "node", format: "cjs", target: "node20" });
const run = spawnSync(process.execPath, [bundle, ...process.argv.slice(2)], { stdio: "inherit" });
process.exitCode = run.status ?? 1;
