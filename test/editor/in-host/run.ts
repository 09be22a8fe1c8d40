import { readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { HostResult } from "../host-result.ts";

const TEST_TIMEOUT_MS = 60_000;

/** Called inside the extension host: runs every test beside this file with mocha and writes the results for whoever waits. */
export async function run(): Promise<void> {
  const { default: Mocha } = await import("mocha");
  const mocha = new Mocha({ ui: "bdd", timeout: TEST_TIMEOUT_MS });
  for (const file of readdirSync(__dirname).filter((name) => name.endsWith(".host.cjs"))) {
    mocha.addFile(path.join(__dirname, file));
  }
  await mocha.loadFilesAsync();
  const results: HostResult[] = [];
  const failures = await new Promise<number>((resolve) => {
    const runner = mocha.run(resolve);
    runner.on("pass", (test) => results.push({ title: test.fullTitle() }));
    runner.on("fail", (test, error: Error) =>
      results.push({ title: test.fullTitle(), failure: error.stack ?? String(error) }),
    );
    runner.on("pending", (test) => results.push({ title: test.fullTitle(), failure: "It was skipped." }));
  });
  const output = process.env.MOVEWRIGHT_HOST_RESULTS;
  if (output === undefined) throw new Error("MOVEWRIGHT_HOST_RESULTS names no file for the results.");
  writeFileSync(output, JSON.stringify(results));
  if (failures > 0) throw new Error(`${failures} tests failed in the extension host.`);
}
