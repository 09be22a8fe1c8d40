import { serveOnNode } from "../../server/node-server.ts";

// What a test asks beside the language server's protocol, over the channel of its process: how full the heap is.
process.on("message", () => {
  if (!globalThis.gc) throw new Error("this server is to be started with --expose-gc");
  // The first round lets finalizers run, the second takes what they let go of.
  globalThis.gc();
  setImmediate(() => {
    globalThis.gc?.();
    process.send?.({ heap: process.memoryUsage().heapUsed });
  });
});

serveOnNode();
