import { runInWebHost } from "./extension-host.ts";
import { describeResults } from "./host-result.ts";
import { copyDemo } from "./workspace.ts";

// The same tests as in the other extension host, but for those that need Node.
const demo = copyDemo();
describeResults("in an extension host that is a web worker", await runInWebHost(demo.folder).finally(demo.remove));
