import "mocha/mocha.js";
import { collect, report, TEST_TIMEOUT_MS } from "./report.ts";

/** Called inside an extension host that is a web worker: runs the tests that `load` brings in. */
export async function runInWorker(load: () => Promise<unknown>): Promise<void> {
  // The one that says nothing: mocha's own for browsers writes to a page.
  mocha.setup({ ui: "bdd", timeout: TEST_TIMEOUT_MS, reporter: Mocha.reporters.Base });
  await load();
  let results: ReturnType<typeof collect> = [];
  await new Promise((resolve) => {
    results = collect(mocha.run(resolve));
  });
  await report(results);
}
