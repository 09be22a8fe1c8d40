import { runInExtensionHost } from "./extension-host.ts";
import { describeResults } from "./host-result.ts";
import { copyDemo } from "./workspace.ts";

// The tests run once, before mocha learns their names, so that each stands in the report under its own.
const demo = copyDemo();
describeResults("in the extension host", await runInExtensionHost(demo.folder).finally(demo.remove));
