import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { createEngine } from "./engine.ts";
import { listThroughClient, type MakePlatform } from "./platform.ts";
import { bytesWithin, readWithin } from "./files/readable.ts";
import { serve } from "./serve.ts";

/** A web worker: every file comes through the client. */
const inWorker: MakePlatform = (client, open) => ({
  beat: { now: () => performance.now(), pause: nextMessage },
  readFile: (file) => readWithin(client, file, open),
  readBytes: (file, cap) => bytesWithin(client, file, open, cap),
  listFiles: (cap, what) => listThroughClient(client, cap, what),
});

/** Lets waiting messages in. A posted message comes sooner than any timer, which browsers slow down to 4 ms. */
function nextMessage(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(undefined);
  });
}

const scope = globalThis as unknown as DedicatedWorkerGlobalScope;
// Node loads this file too, for the engine in it: then nothing is served here.
if ("DedicatedWorkerGlobalScope" in globalThis) {
  serve(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)), inWorker, createEngine());
}
