import { runInWebHost } from "./extension-host.ts";
import { describeResults, resultsOf } from "./host-result.ts";
import { copyDemo } from "./workspace.ts";

// The same tests as in the other extension host, but for those that need Node.
const demo = copyDemo();
const results = await resultsOf(runInWebHost(demo.folder).finally(demo.remove));
describeResults("in an extension host that is a web worker", results);
