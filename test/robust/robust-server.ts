import { fork, type ChildProcess } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type ClientCapabilities,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
} from "vscode-languageserver-protocol/node.js";
import { ABLE } from "../lsp/harness.ts";
import { bundledServer } from "../support/bundled-server.ts";

const root = new URL("../../", import.meta.url);
const EXAMPLES = fileURLToPath(new URL("examples/", root));

/** A place in a text, and what is put there: in UTF-16 units. */
export interface Change {
  readonly from: number;
  readonly to: number;
  readonly piece: string;
}

/** The server as it is bundled for the product, with a way to ask how full its heap is. */
export interface RobustServer {
  readonly connection: ProtocolConnection;
  /** Folder of the workspace: a copy of the demo, and what else was asked for. */
  readonly folder: string;
  uri(path: string): string;
  open(path: string, text: string): Promise<void>;
  /** Tells all changes at once, each of the text that those before it left; the text that comes out is given. */
  change(path: string, text: string, changes: readonly Change[]): Promise<string>;
  close(path: string): Promise<void>;
  version(path: string): number;
  pull(path: string): Promise<readonly Diagnostic[]>;
  /** All that was published of an open document last. */
  published(path: string): PublishDiagnosticsParams | undefined;
  /** How often something was published of a document. */
  publishes(path: string): number;
  /** Resolves when `holds`, looked at whenever something was published or is to be pulled again; rejects after three minutes. */
  until(what: string, holds: () => boolean): Promise<void>;
  refreshes(): number;
  /** Bytes of the heap that are in use after a collection. */
  heap(): Promise<number>;
  readonly log: string[];
  stop(): Promise<number | null>;
}

/**
 * Starts one on a copy of the demo.
 *
 * @param files More files of the workspace.
 */
export async function startRobustServer(
  files: Readonly<Record<string, string>>,
  capabilities: ClientCapabilities = ABLE,
): Promise<RobustServer> {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), "movewright-robust-")));
  cpSync(EXAMPLES, folder, { recursive: true });
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const main = await bundledServer("test/robust/measured-server.ts");
  const child = fork(main, ["--stdio"], { execArgv: ["--expose-gc"], silent: true });
  const exited = new Promise<number | null>((resolve) => child.on("exit", resolve));
  const log: string[] = [];
  child.stderr?.on("data", (data: Buffer) => void log.push(data.toString()));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout!),
    new StreamMessageWriter(child.stdin!),
  );
  const published = new Map<string, PublishDiagnosticsParams>();
  const counts = new Map<string, number>();
  const versions = new Map<string, number>();
  let refreshes = 0;
  let wake = (): void => undefined;
  connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
    published.set(params.uri, params);
    counts.set(params.uri, (counts.get(params.uri) ?? 0) + 1);
    wake();
  });
  connection.onNotification("window/logMessage", ({ message }: { message: string }) => void log.push(message));
  connection.onRequest("workspace/diagnostic/refresh", () => {
    refreshes += 1;
    wake();
    return null;
  });
  for (const method of ["client/registerCapability", "workspace/codeLens/refresh", "workspace/inlayHint/refresh"]) {
    connection.onRequest(method, () => null);
  }
  connection.listen();
  const uri = (path: string): string => pathToFileURL(join(folder, path)).toString();
  await connection.sendRequest("initialize", {
    processId: process.pid,
    rootUri: null,
    capabilities,
    workspaceFolders: [{ uri: pathToFileURL(folder).toString(), name: "demo" }],
  });
  await connection.sendNotification("initialized", {});

  return {
    connection,
    folder,
    uri,
    open(path, text) {
      versions.set(path, 1);
      const textDocument = { uri: uri(path), languageId: path.endsWith("json") ? "json" : "yaml", version: 1, text };
      return connection.sendNotification("textDocument/didOpen", { textDocument });
    },
    async change(path, text, changes) {
      const version = (versions.get(path) ?? 0) + 1;
      versions.set(path, version);
      let now = text;
      const contentChanges = changes.map(({ from, to, piece }) => {
        const range = { start: positionIn(now, from), end: positionIn(now, to) };
        now = now.slice(0, from) + piece + now.slice(to);
        return { range, text: piece };
      });
      await connection.sendNotification("textDocument/didChange", {
        textDocument: { uri: uri(path), version },
        contentChanges,
      });
      return now;
    },
    close: (path) => connection.sendNotification("textDocument/didClose", { textDocument: { uri: uri(path) } }),
    version: (path) => versions.get(path) ?? 0,
    async pull(path) {
      const report = await connection.sendRequest<DocumentDiagnosticReport>("textDocument/diagnostic", {
        textDocument: { uri: uri(path) },
      });
      if (report.kind !== "full") throw new Error(`no full report of ${path}`);
      return report.items;
    },
    published: (path) => published.get(uri(path)),
    publishes: (path) => counts.get(uri(path)) ?? 0,
    until(what, holds) {
      if (holds()) return Promise.resolve();
      return new Promise((resolve, reject) => {
        const timer = setTimeout(() => {
          wake = () => undefined;
          reject(new Error(`${what}: not within three minutes\n${log.join("")}`));
        }, 180_000);
        wake = () => {
          if (!holds()) return;
          clearTimeout(timer);
          wake = () => undefined;
          resolve();
        };
      });
    },
    refreshes: () => refreshes,
    heap: () => askHeap(child),
    log,
    async stop() {
      await connection.sendRequest("shutdown");
      await connection.sendNotification("exit");
      const code = await exited;
      connection.dispose();
      rmSync(folder, { recursive: true, force: true });
      return code;
    },
  };
}

function askHeap(child: ChildProcess): Promise<number> {
  return new Promise((resolve) => {
    child.once("message", (message) => resolve((message as { heap: number }).heap));
    child.send("heap");
  });
}

/** Line and character of an offset, where lines end as the protocol says: at LF, CRLF or CR. */
export function positionIn(text: string, offset: number): { line: number; character: number } {
  let line = 0;
  let start = 0;
  for (let i = 0; i < offset; i++) {
    const unit = text.charCodeAt(i);
    if (unit !== 10 && unit !== 13) continue;
    // Between the two of a CRLF there is no line of its own.
    if (unit === 13 && text.charCodeAt(i + 1) === 10) {
      if (i + 1 === offset) break;
      i += 1;
    }
    line += 1;
    start = i + 1;
  }
  return { line, character: offset - start };
}
