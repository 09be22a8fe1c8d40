import { runInExtensionHost } from "./extension-host.ts";
import { describeResults, resultsOf } from "./host-result.ts";
import { copyDemo } from "./workspace.ts";

// The tests run once, before mocha learns their names, so that each stands in the report under its own.
const demo = copyDemo();
const results = await resultsOf(runInExtensionHost(demo.folder).finally(demo.remove));
describeResults("in the extension host", results);
