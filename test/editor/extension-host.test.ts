import { runInExtensionHost } from "./extension-host.ts";
import { copyDemo } from "./workspace.ts";

// The tests run once, before mocha learns their names, so that each stands in the report under its own.
const demo = copyDemo();
const results = await runInExtensionHost(demo.folder).finally(demo.remove);

describe("in the extension host", () => {
  it("tests ran", () => {
    if (results.length === 0) throw new Error("The extension host ran no test.");
  });

  for (const { title, failure } of results) {
    it(title, () => {
      if (failure !== undefined) throw new Error(failure);
    });
  }
});
