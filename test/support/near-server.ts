import { PassThrough } from "node:stream";
import { createConnection, StreamMessageReader, StreamMessageWriter } from "vscode-languageserver/node.js";
import { createProtocolConnection, type ProtocolConnection } from "vscode-languageserver-protocol/node.js";
import type { TakeChangedParams } from "../../protocol/requests.ts";
import { createEngine } from "../../server/engine.ts";
import type { MakePlatform } from "../../server/platform.ts";
import { serve } from "../../server/serve.ts";

/** The product's server in this process, with documents of the memory, spoken to over a connection of its own. */
export interface NearServer {
  readonly connection: ProtocolConnection;
  uri(path: string): string;
  open(path: string, text: string): Promise<void>;
  /** All of a text that is open, as its next version. */
  change(path: string, text: string): Promise<void>;
  /** Takes of which the server said that they may be others now. */
  readonly takeChanges: TakeChangedParams[];
  /** Of a document that is open. */
  version(path: string): number;
  stop(): void;
}

/** @param files Texts by path from the root of the one folder of the workspace. */
export async function startNearServer(files: Readonly<Record<string, string>>): Promise<NearServer> {
  const [there, back] = [new PassThrough(), new PassThrough()];
  const texts = new Map(Object.entries(files).map(([path, text]) => [`/job/${path}`, text]));
  const inMemory: MakePlatform = () => ({
    beat: { now: () => performance.now(), pause: () => new Promise((resolve) => setImmediate(resolve)) },
    readFile: (file) => {
      const text = texts.get(file);
      return Promise.resolve(text === undefined ? { state: "missing" } : { state: "text", text });
    },
    readBytes: () => Promise.resolve(undefined),
    listFiles: (cap) => Promise.resolve([...texts.keys()].slice(0, cap)),
  });
  serve(createConnection(new StreamMessageReader(there), new StreamMessageWriter(back)), inMemory, createEngine());
  const connection = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const takeChanges: TakeChangedParams[] = [];
  connection.onNotification("movewright/takeChanged", (params: TakeChangedParams) => void takeChanges.push(params));
  connection.listen();
  const uri = (path: string): string => `file:///job/${path}`;
  const versions = new Map<string, number>();
  await connection.sendRequest("initialize", {
    processId: null,
    rootUri: null,
    capabilities: { workspace: { workspaceFolders: true } },
    workspaceFolders: [{ uri: "file:///job", name: "job" }],
  });
  await connection.sendNotification("initialized", {});
  return {
    connection,
    uri,
    takeChanges,
    async open(path, text) {
      versions.set(path, 1);
      const textDocument = { uri: uri(path), languageId: "yaml", version: 1, text };
      await connection.sendNotification("textDocument/didOpen", { textDocument });
    },
    async change(path, text) {
      const version = (versions.get(path) ?? 0) + 1;
      versions.set(path, version);
      const textDocument = { uri: uri(path), version };
      await connection.sendNotification("textDocument/didChange", { textDocument, contentChanges: [{ text }] });
    },
    version: (path) => versions.get(path) ?? 0,
    stop() {
      connection.dispose();
      there.destroy();
      back.destroy();
    },
  };
}
