import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type ClientCapabilities,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type InitializeResult,
  type Position,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  type Range,
} from "vscode-languageserver-protocol/node.js";
import { bundledServer } from "../support/bundled-server.ts";
import type { InitializationOptions, TakeChangedParams } from "../../protocol/requests.ts";

/** What an editor that can do everything says of itself. */
export const ABLE: ClientCapabilities = {
  general: { positionEncodings: ["utf-16"] },
  workspace: {
    workspaceFolders: true,
    didChangeWatchedFiles: { dynamicRegistration: true },
    diagnostics: { refreshSupport: true },
    codeLens: { refreshSupport: true },
    inlayHint: { refreshSupport: true },
    semanticTokens: { refreshSupport: true },
  },
  textDocument: {
    diagnostic: { dynamicRegistration: false, relatedDocumentSupport: false },
    codeAction: {
      codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix", "refactor"] } },
      resolveSupport: { properties: ["edit"] },
      dataSupport: true,
    },
    completion: { completionItem: { snippetSupport: true, insertTextModeSupport: { valueSet: [1, 2] } } },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    rename: { prepareSupport: true },
    foldingRange: { foldingRange: { collapsedText: true } },
    publishDiagnostics: { relatedInformation: true, versionSupport: true },
  },
};

/** The same editor when it can't ask for diagnostics. */
export const PUSHED: ClientCapabilities = {
  ...ABLE,
  workspace: { ...ABLE.workspace, diagnostics: undefined },
  textDocument: { ...ABLE.textDocument, diagnostic: undefined },
};

export interface Client {
  readonly connection: ProtocolConnection;
  readonly initialized: InitializeResult;
  /** Folder of the workspace on disk. */
  readonly folder: string;
  uri(path: string): string;
  /** Writes a file without telling the server. */
  write(path: string, text: string): void;
  remove(path: string): void;
  /** Tells the server that files changed on disk, as the editor's watcher does: 1 created, 2 changed, 3 deleted. */
  watched(path: string, type: 1 | 2 | 3): Promise<void>;
  open(path: string, text: string, version?: number): Promise<void>;
  change(path: string, text: string, version: number): Promise<void>;
  close(path: string): Promise<void>;
  pull(path: string, previousResultId?: string): Promise<DocumentDiagnosticReport>;
  /** Pulls as an editor does, again after each refresh, until `done` holds. */
  pullUntil(path: string, done: (items: readonly Diagnostic[]) => boolean): Promise<readonly Diagnostic[]>;
  /** Everything pushed so far, and what may be waited for. */
  readonly published: PublishDiagnosticsParams[];
  readonly refreshes: () => number;
  readonly hintRefreshes: () => number;
  readonly tokenRefreshes: () => number;
  readonly lensRefreshes: () => number;
  readonly takeChanges: TakeChangedParams[];
  readonly log: string[];
  /** Resolves when `holds` does, looked at whenever something arrives; rejects after thirty seconds. */
  until(what: string, holds: () => boolean): Promise<void>;
  stop(): Promise<number | null>;
  exited: Promise<number | null>;
}

/** A server of its own over stdio, on a workspace of its own. */
export async function startServer(
  files: Readonly<Record<string, string>>,
  capabilities: ClientCapabilities = ABLE,
  initializationOptions?: InitializationOptions,
): Promise<Client> {
  const folder = mkdtempSync(join(tmpdir(), "movewright-lsp-"));
  const write = (path: string, text: string) => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  for (const [path, text] of Object.entries(files)) write(path, text);
  const child = spawn(process.execPath, [await bundledServer("server/main-node.ts"), "--stdio"], {
    stdio: ["pipe", "pipe", "pipe"],
  });
  const log: string[] = [];
  child.stderr.on("data", (data: Buffer) => log.push(data.toString()));
  const exited = new Promise<number | null>((resolve) => child.on("exit", resolve));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const published: PublishDiagnosticsParams[] = [];
  const takeChanges: TakeChangedParams[] = [];
  let refreshes = 0;
  let hintRefreshes = 0;
  let tokenRefreshes = 0;
  let lensRefreshes = 0;
  let wake: (() => void)[] = [];
  const arrived = () => {
    const woken = wake;
    wake = [];
    for (const each of woken) each();
  };
  connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
    published.push(params);
    arrived();
  });
  connection.onNotification("movewright/takeChanged", (params: TakeChangedParams) => {
    takeChanges.push(params);
    arrived();
  });
  connection.onNotification("window/logMessage", (params: { message: string }) => void log.push(params.message));
  connection.onRequest("client/registerCapability", () => null);
  connection.onRequest("workspace/codeLens/refresh", () => {
    lensRefreshes += 1;
    arrived();
    return null;
  });
  connection.onRequest("workspace/semanticTokens/refresh", () => {
    tokenRefreshes += 1;
    arrived();
    return null;
  });
  connection.onRequest("workspace/inlayHint/refresh", () => {
    hintRefreshes += 1;
    arrived();
    return null;
  });
  connection.onRequest("workspace/diagnostic/refresh", () => {
    refreshes += 1;
    arrived();
    return null;
  });
  connection.listen();
  const uri = (path: string) => pathToFileURL(join(folder, path)).toString();
  const died = exited.then((code) => Promise.reject(new Error(`The server ended with ${code}.\n${log.join("")}`)));
  const asked = connection.sendRequest<InitializeResult>("initialize", {
    processId: process.pid,
    rootUri: null,
    capabilities,
    initializationOptions,
    workspaceFolders: [{ uri: pathToFileURL(folder).toString(), name: "job" }],
  });
  const initialized = await Promise.race([asked, died]).catch((error: unknown) => {
    child.kill();
    throw error;
  });
  // Later ends are the tests' own business.
  died.catch(() => undefined);
  await connection.sendNotification("initialized", {});

  const until = async (what: string, holds: () => boolean) => {
    const deadline = Date.now() + 30_000;
    while (!holds()) {
      const left = deadline - Date.now();
      assert.ok(left > 0, `${what}: not within 30 s\n${log.join("\n")}`);
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, left);
        wake.push(() => {
          clearTimeout(timer);
          resolve();
        });
      });
    }
  };
  const pull = (path: string, previousResultId?: string) =>
    connection.sendRequest<DocumentDiagnosticReport>("textDocument/diagnostic", {
      textDocument: { uri: uri(path) },
      previousResultId,
    });

  return {
    connection,
    initialized,
    folder,
    uri,
    write,
    remove: (path) => rmSync(join(folder, path)),
    watched: (path, type) =>
      connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: uri(path), type }] }),
    open: (path, text, version = 1) =>
      connection.sendNotification("textDocument/didOpen", {
        textDocument: { uri: uri(path), languageId: path.endsWith("json") ? "json" : "yaml", version, text },
      }),
    change: (path, text, version) =>
      connection.sendNotification("textDocument/didChange", {
        textDocument: { uri: uri(path), version },
        contentChanges: [{ text }],
      }),
    close: (path) => connection.sendNotification("textDocument/didClose", { textDocument: { uri: uri(path) } }),
    pull,
    async pullUntil(path, done) {
      for (;;) {
        const before = refreshes;
        const report = await pull(path);
        assert.equal(report.kind, "full");
        const items = report.kind === "full" ? report.items : [];
        if (done(items)) return items;
        await until(`a refresh after ${JSON.stringify(items.map(({ message }) => message))}`, () => refreshes > before);
      }
    },
    published,
    refreshes: () => refreshes,
    hintRefreshes: () => hintRefreshes,
    tokenRefreshes: () => tokenRefreshes,
    lensRefreshes: () => lensRefreshes,
    takeChanges,
    log,
    until,
    exited,
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

/** Position of the `nth` occurrence of `word`, plus `shift` characters. */
export function at(text: string, word: string, shift = 0, nth = 0): Position {
  let offset = text.indexOf(word);
  for (let idx = 0; idx < nth; idx += 1) offset = text.indexOf(word, offset + 1);
  assert.ok(offset >= 0, `${word} is in the text`);
  return positionAt(text, offset + shift);
}

export function positionAt(text: string, offset: number): Position {
  const before = text.slice(0, offset).split("\n");
  return { line: before.length - 1, character: before[before.length - 1].length };
}

/** The text of a range. */
export function textIn(text: string, { start, end }: Range): string {
  return text.slice(offsetAt(text, start), offsetAt(text, end));
}

export function offsetAt(text: string, { line, character }: Position): number {
  const lines = text.split("\n");
  return lines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0) + character;
}

export const codes = (items: readonly Diagnostic[]): string[] => items.map(({ code }) => String(code)).sort();
