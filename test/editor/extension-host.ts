import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import type { Page } from "playwright-core";
import { buildAll } from "../../scripts/build.mjs";
import { prepareHost } from "../../scripts/editor-host/prepare.mjs";
import { hostAddress, serveHost } from "../../scripts/editor-host/serve.mjs";
import { bundleForNode, bundleForWorker } from "./bundle-tests.ts";
import { serveExtensionFiles } from "./extension-files.ts";
import type { HostResult } from "./host-result.ts";
import { withPage } from "./hosted-page.ts";
import { root } from "./paths.ts";
import { addWebExtension } from "./web-extension.ts";

/** A host on an idle machine takes a quarter of it. */
const RUN_TIMEOUT_MS = 480_000;

/**
 * Runs the tests of `in-host/` in a real extension host that has `folder` open: one served to a browser on Linux, a
 * desktop editor elsewhere. The folder stands in one of its own, where the results are left.
 *
 * @returns One result a test.
 * @throws Error with the editor's log when the host ended without results.
 */
export async function runInExtensionHost(folder: string): Promise<HostResult[]> {
  await buildAll({ ifStale: true });
  const tests = await bundleForNode();
  if (process.platform !== "linux") return readResults(folder, await runDesktop(folder, tests));
  const log = await runServed((port, page) => page.goto(hostAddress({ port, folder, extension: root, tests })));
  return readResults(folder, log);
}

/**
 * Runs those of the tests of `in-host/` that need no Node in an extension host that is a web worker, where the language
 * server is one too and documents are read through the editor alone.
 */
export async function runInWebHost(folder: string): Promise<HostResult[]> {
  await buildAll({ ifStale: true });
  const tests = await bundleForWorker();
  const files = await serveExtensionFiles();
  try {
    const log = await runServed(async (port, page) => {
      await addWebExtension(page, { port, authority: files.authority, tests });
      await page.goto(hostAddress({ port, folder }));
    });
    return readResults(folder, log);
  } finally {
    files.close();
  }
}

/** Opens an editor that runs tests, and waits for their end; gives what was written to its logs. */
async function runServed(open: (port: number, page: Page) => Promise<unknown>): Promise<string> {
  await prepareHost();
  const state = mkdtempSync(path.join(os.tmpdir(), "movewright-host-"));
  // Nothing is saved that a test does not save: most editors wait for a person to do it.
  const host = await serveHost({ data: state, settings: { "files.autoSave": "off" } });
  const lines: string[] = [];
  try {
    await withPage(async (page) => {
      const ended = new Promise((resolve) => {
        void page.exposeFunction("codeAutomationExit", resolve);
      });
      await page.exposeFunction("codeAutomationLog", (_type: string, args: unknown[]) => lines.push(args.join(" ")));
      await open(host.port, page);
      await Promise.race([ended, sleep(RUN_TIMEOUT_MS, undefined, { ref: false })]);
    });
    return [...lines, host.log()].join("\n");
  } finally {
    await host.stop();
    rmSync(state, { recursive: true, force: true });
  }
}

async function runDesktop(folder: string, tests: string): Promise<string> {
  const { runTests } = await import("@vscode/test-electron");
  const code = await runTests({
    extensionDevelopmentPath: root,
    extensionTestsPath: tests,
    launchArgs: [folder, "--disable-extensions", "--disable-workspace-trust", "--skip-welcome"],
  }).catch((error: unknown) => String(error));
  return `The desktop editor ended with: ${code}`;
}

function readResults(folder: string, log: string): HostResult[] {
  const file = path.join(path.dirname(folder), "host-results.json");
  let text;
  try {
    text = readFileSync(file, "utf8");
  } catch (error) {
    throw new Error(`The extension host ended without results.\n${log.slice(-20_000)}`, { cause: error });
  }
  return JSON.parse(text) as HostResult[];
}
