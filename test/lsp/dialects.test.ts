import assert from "node:assert/strict";
import { spawn, type ChildProcessWithoutNullStreams } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import type { Diagnostic, Hover, InitializeResult, WorkspaceSymbol } from "vscode-languageserver-protocol";
import { bundledServer } from "../support/bundled-server.ts";
import { rawClient, type RawClient } from "../support/raw-client.ts";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { at, textIn } from "./harness.ts";

const PATH = "moves/along.move.yaml";

/** What an older or another client than ours may say of itself. */
interface Dialect {
  readonly name: string;
  readonly capabilities: object;
  /** How it tells its folder. */
  readonly root: (folder: string) => object;
  /** How it sends a text anew. */
  readonly change: (text: string) => readonly object[];
}

const DIALECTS: readonly Dialect[] = [
  {
    name: "that tells its folder as a path alone, wants bytes counted, and registers nothing",
    capabilities: { general: { positionEncodings: ["utf-8", "utf-16"] }, textDocument: { hover: {} } },
    root: (rootPath) => ({ rootPath, rootUri: null }),
    change: (text) => [{ text }],
  },
  {
    name: "that tells its folder as a uri, pulls without being told to, and sends parts of a text",
    capabilities: { textDocument: { diagnostic: {}, rename: {} }, workspace: { applyEdit: true } },
    root: (folder) => ({ rootUri: pathToFileURL(folder).toString(), workspaceFolders: null }),
    change: (text) => [{ range: { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } }, text }],
  },
];

for (const { name, capabilities, root, change } of DIALECTS) {
  describe(`a client ${name}`, () => {
    const folder = mkdtempSync(path.join(tmpdir(), "movewright-dialect-"));
    const uri = (file: string) => pathToFileURL(path.join(folder, file)).toString();
    const open = (file: string, text: string) =>
      client.tell("textDocument/didOpen", {
        textDocument: { uri: uri(file), languageId: "yaml", version: 1, text },
      });
    const diagnosed = (file: string, holds: (found: readonly Diagnostic[]) => boolean, version?: number) =>
      client.told<{ uri: string; version?: number; diagnostics: Diagnostic[] }>(
        "textDocument/publishDiagnostics",
        (params) =>
          params.uri === uri(file) && (version ?? params.version) === params.version && holds(params.diagnostics),
      );
    let child: ChildProcessWithoutNullStreams;
    let client: RawClient;
    let initialized: InitializeResult;

    before(async () => {
      for (const [file, text] of Object.entries(WORKSPACE)) {
        mkdirSync(path.dirname(path.join(folder, file)), { recursive: true });
        writeFileSync(path.join(folder, file), text);
      }
      child = spawn(process.execPath, [await bundledServer("server/main-node.ts"), "--stdio"]);
      client = rawClient(child.stdout, child.stdin);
      initialized = await client.ask("initialize", { processId: null, capabilities, ...root(folder) });
      client.tell("initialized", {});
    });
    after(() => {
      child.kill();
      rmSync(folder, { recursive: true, force: true });
    });

    it("is told that positions are UTF-16", () => {
      assert.equal(initialized.capabilities.positionEncoding, "utf-16");
    });

    it("gets findings of text and motion as they come and go, in their places", async () => {
      const rest = MOVE.slice(MOVE.indexOf("- after: 2 s"));
      const wrong = MOVE.replace(rest, '- { name: "🫖", after: 2 s, axes: { slide: -0.3, plate: 30 }, focus: lit }\n');
      open(PATH, wrong);
      const { diagnostics } = await diagnosed(PATH, (found) => found.some(({ code }) => code === "unknown-target"));
      const { range } = diagnostics.find(({ code }) => code === "unknown-target") as Diagnostic;
      assert.equal(textIn(wrong, range), "lit");
      const send = (version: number, text: string) =>
        client.tell("textDocument/didChange", {
          textDocument: { uri: uri(PATH), version },
          contentChanges: change(text),
        });
      send(2, MOVE.replace("at: 4 s", "at: 1 s"));
      await diagnosed(PATH, (found) => found.some(({ code }) => code === "axis-speed"), 2);
      send(3, MOVE);
      await diagnosed(PATH, (found) => found.length === 0, 3);
    });

    it("gets findings of what changed on the disk, once it saves", async () => {
      writeFileSync(path.join(folder, "kit/slider.rig.yaml"), RIG.replace("speed: 0.4", "speed: 0.2"));
      client.tell("textDocument/didSave", { textDocument: { uri: uri(PATH) } });
      await diagnosed(PATH, (found) => found.some(({ message }) => /0\.2 m\/s/.test(message)));
    });

    it("gets answers about the files of its folder", async () => {
      const question = { textDocument: { uri: uri(PATH) }, position: at(MOVE, "right") };
      const hover = await client.ask<Hover>("textDocument/hover", question);
      assert.match(JSON.stringify(hover.contents), /tilt/);
      const symbols = await client.ask<WorkspaceSymbol[]>("workspace/symbol", { query: "spout" });
      assert.ok(symbols.some(({ location }) => location.uri === uri("moves/table.set.yaml")));
    });

    it("hears nothing about files of other kinds that it hands over too", async () => {
      const question = { textDocument: { uri: uri("kiln.yaml") }, position: { line: 0, character: 1 } };
      open("kiln.yaml", "kiln: [1, 2\n  broken: {");
      assert.equal(await client.ask("textDocument/hover", question), null);
      const offered = await client.ask<unknown>("textDocument/completion", question);
      assert.ok(offered === null || (Array.isArray(offered) && offered.length === 0), JSON.stringify(offered));
      // Asked after it, so that its diagnostics would have come by now.
      await client.ask("textDocument/hover", { textDocument: { uri: uri(PATH) }, position: at(MOVE, "right") });
      const told = client.came.filter(({ params }) => JSON.stringify(params ?? null).includes("kiln.yaml"));
      assert.ok(told.every(({ params }) => (params as { diagnostics?: unknown[] }).diagnostics?.length === 0));
    });

    it("is asked nothing that it did not say it can answer", () => {
      assert.deepEqual(
        client.came.filter(({ id, method }) => id !== undefined && method !== undefined),
        [],
      );
    });
  });
}
