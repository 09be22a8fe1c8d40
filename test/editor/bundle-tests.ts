import { build, type BuildOptions } from "esbuild";
import { readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { root } from "./paths.ts";

const SOURCE = path.join(root, "test", "editor", "in-host");
/** These look at processes, which a page has none of, or need Git; all others run in both kinds of extension host. */
const NEED_NODE: readonly string[] = ["restart.host.ts", "review.host.ts", "revision.host.ts", "tasks.host.ts"];
/** Both kinds of extension host load CommonJS. */
const SHARED = { bundle: true, format: "cjs", sourcemap: "inline" } satisfies BuildOptions;

/** All of them, or the one that MOVEWRIGHT_HOST_TEST names, for whoever works on it. */
function hostFiles(): string[] {
  const only = process.env.MOVEWRIGHT_HOST_TEST;
  return readdirSync(SOURCE).filter((name) => name.endsWith(only === undefined ? ".host.ts" : `${only}.host.ts`));
}

/** Bundles each test for an extension host on Node; returns the module whose `run()` it calls. */
export async function bundleForNode(): Promise<string> {
  const outdir = path.join(root, "out", "editor-tests");
  rmSync(outdir, { recursive: true, force: true });
  await build({
    ...SHARED,
    entryPoints: ["run.ts", ...hostFiles()].map((name) => path.join(SOURCE, name)),
    outdir,
    outExtension: { ".js": ".cjs" },
    platform: "node",
    target: "node20",
    external: ["vscode", "mocha"],
  });
  return path.join(outdir, "run.cjs");
}

/** Bundles the tests into one file for an extension host that is a web worker; returns its path from the project's root. */
export async function bundleForWorker(): Promise<string> {
  // Its name says CommonJS, in a package of modules; the host of workers puts `.js` behind whatever it is given.
  const tests = "out/editor-tests-web/run.cjs";
  const loads = hostFiles()
    .filter((name) => !NEED_NODE.includes(name))
    .map((name) => `await import("./${name}");`);
  await build({
    ...SHARED,
    stdin: {
      contents: `import { runInWorker } from "./run-in-worker.ts";
export const run = () => runInWorker(async () => { ${loads.join(" ")} });`,
      resolveDir: SOURCE,
      loader: "ts",
    },
    outfile: path.join(root, `${tests}.js`),
    platform: "browser",
    target: "es2022",
    alias: { "node:assert/strict": path.join(SOURCE, "assert-here.ts") },
    // Mocha's file for pages would else hand itself out in the place of `run`.
    define: { exports: "undefined", module: "undefined" },
    external: ["vscode"],
  });
  return tests;
}
