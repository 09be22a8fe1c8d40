import { readdirSync } from "node:fs";
import path from "node:path";
import { collect, report, TEST_TIMEOUT_MS } from "./report.ts";

/** Called inside an extension host on Node: runs every test beside this file with mocha and writes the results for whoever waits. */
export async function run(): Promise<void> {
  const { default: Mocha } = await import("mocha");
  const mocha = new Mocha({ ui: "bdd", timeout: TEST_TIMEOUT_MS });
  for (const file of readdirSync(__dirname).filter((name) => name.endsWith(".host.cjs"))) {
    mocha.addFile(path.join(__dirname, file));
  }
  await mocha.loadFilesAsync();
  let results: ReturnType<typeof collect> = [];
  await new Promise((resolve) => {
    results = collect(mocha.run(resolve));
  });
  await report(results);
}
