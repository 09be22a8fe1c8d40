import type { Runner } from "mocha";
import * as vscode from "vscode";
import type { HostResult } from "../host-result.ts";

export const TEST_TIMEOUT_MS = 120_000;

/** Collects how each test of a runner ends. */
export function collect(runner: Runner): HostResult[] {
  const results: HostResult[] = [];
  // The log of the editor tells how far the tests came, should they never end.
  runner.on("test", (test) => console.log(`${new Date().toISOString()} ${test.fullTitle()}`));
  runner.on("pass", (test) => results.push({ title: test.fullTitle() }));
  runner.on("fail", (test, error: Error) => {
    const failure = error.stack ?? String(error);
    console.log(`failed: ${failure}`);
    results.push({ title: test.fullTitle(), failure });
  });
  runner.on("pending", (test) => results.push({ title: test.fullTitle(), failure: "It was skipped." }));
  return results;
}

/** Writes the results beside the opened folder, through the editor: a web worker has no other way to a file. */
export async function report(results: readonly HostResult[]): Promise<void> {
  const [folder] = vscode.workspace.workspaceFolders ?? [];
  if (folder === undefined) throw new Error("No folder is open.");
  const file = vscode.Uri.joinPath(folder.uri, "..", "host-results.json");
  await vscode.workspace.fs.writeFile(file, new TextEncoder().encode(JSON.stringify(results)));
  const failed = results.filter(({ failure }) => failure !== undefined);
  if (failed.length > 0) throw new Error(`${failed.length} tests failed in the extension host.`);
}
