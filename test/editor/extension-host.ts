import { build } from "esbuild";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { buildAll } from "../../scripts/build.mjs";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, serveHost } from "../../scripts/editor-host/serve.mjs";
import type { HostResult } from "./host-result.ts";
import { withPage } from "./hosted-page.ts";
import { root } from "./paths.ts";

const RUN_TIMEOUT_MS = 360_000;

/**
 * Runs the tests of `in-host/` in a real extension host that has `folder` open: one served to a browser on Linux, a
 * desktop editor elsewhere.
 *
 * @returns One result a test.
 * @throws Error with the editor's log when the host ended without results.
 */
export async function runInExtensionHost(folder: string): Promise<HostResult[]> {
  await buildAll({ ifStale: true });
  const tests = await bundleTests();
  const state = mkdtempSync(path.join(os.tmpdir(), "movewright-host-"));
  const output = path.join(state, "results.json");
  const env = { MOVEWRIGHT_HOST_RESULTS: output };
  try {
    const log =
      process.platform === "linux" ? await runHosted(folder, tests, state, env) : await runDesktop(folder, tests, env);
    return readResults(output, log);
  } finally {
    rmSync(state, { recursive: true, force: true });
  }
}

/** Bundles each test for the extension host, which loads CommonJS; returns the module whose `run()` it calls. */
async function bundleTests(): Promise<string> {
  const source = path.join(root, "test", "editor", "in-host");
  const outdir = path.join(root, "out", "editor-tests");
  rmSync(outdir, { recursive: true, force: true });
  const entryPoints = readdirSync(source)
    .filter((name) => name === "run.ts" || name.endsWith(".host.ts"))
    .map((name) => path.join(source, name));
  await build({
    entryPoints,
    outdir,
    outExtension: { ".js": ".cjs" },
    bundle: true,
    platform: "node",
    target: "node20",
    format: "cjs",
    external: ["vscode", "mocha"],
    sourcemap: "inline",
  });
  return path.join(outdir, "run.cjs");
}

async function runHosted(folder: string, tests: string, state: string, env: Record<string, string>): Promise<string> {
  await prepareHost();
  const host = await serveHost({ data: path.join(state, "editor"), env });
  const lines: string[] = [];
  try {
    await withPage(async (page) => {
      const ended = new Promise((resolve) => {
        void page.exposeFunction("codeAutomationExit", resolve);
      });
      await page.exposeFunction("codeAutomationLog", (_type: string, args: unknown[]) => lines.push(args.join(" ")));
      await page.goto(hostAddress({ port: host.port, folder, extension: root, tests }));
      await Promise.race([ended, sleep(RUN_TIMEOUT_MS, undefined, { ref: false })]);
    });
    return [...lines, host.log()].join("\n");
  } finally {
    await host.stop();
  }
}

async function runDesktop(folder: string, tests: string, env: Record<string, string>): Promise<string> {
  const { runTests } = await import("@vscode/test-electron");
  const code = await runTests({
    extensionDevelopmentPath: root,
    extensionTestsPath: tests,
    launchArgs: [folder, "--disable-extensions", "--disable-workspace-trust", "--skip-welcome"],
    extensionTestsEnv: env,
  }).catch((error: unknown) => String(error));
  return `The desktop editor ended with: ${code}`;
}

function readResults(file: string, log: string): HostResult[] {
  let text;
  try {
    text = readFileSync(file, "utf8");
  } catch (error) {
    throw new Error(`The extension host ended without results.\n${log.slice(-6000)}`, { cause: error });
  }
  return JSON.parse(text) as HostResult[];
}
