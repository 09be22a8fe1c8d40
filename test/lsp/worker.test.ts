import assert from "node:assert/strict";
import type {
  CompletionItem,
  DocumentDiagnosticReport,
  Hover,
  InitializeResult,
  Location,
  MarkupContent,
  WorkspaceDiagnosticReport,
} from "vscode-languageserver-protocol";
import type { TakeResult } from "../../protocol/requests.ts";
import { unpackTake } from "../../protocol/codec.ts";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { ABLE, at, codes } from "./harness.ts";
import { startWorker, type WorkerServer } from "./worker-page.ts";

const FOLDER = "vscode-vfs://host/owner/job";
const uri = (path: string) => `${FOLDER}/${path}`;
const FILES = Object.fromEntries(Object.entries(WORKSPACE).map(([path, text]) => [uri(path), text]));
const PATH = "moves/along.move.yaml";

describe("the server in a web worker, on a file system of the editor's", () => {
  let server: WorkerServer;
  before(async () => {
    server = await startWorker(FILES);
    const { capabilities } = await server.ask<InitializeResult>("initialize", {
      processId: null,
      rootUri: null,
      capabilities: ABLE,
      workspaceFolders: [{ uri: FOLDER, name: "job" }],
      initializationOptions: { readFile: true, listFiles: true },
    });
    assert.equal(capabilities.hoverProvider, true);
    await server.tell("initialized", {});
    await server.tell("textDocument/didOpen", {
      textDocument: { uri: uri(PATH), languageId: "yaml", version: 1, text: MOVE },
    });
  });
  after(() => server.close());

  const textDocument = { uri: uri(PATH) };
  const pull = async () => {
    const report = await server.ask<DocumentDiagnosticReport>("textDocument/diagnostic", { textDocument });
    return report.kind === "full" ? report.items : [];
  };

  it("reads the files that a move uses through the client", async () => {
    assert.deepEqual(await pull(), []);
    const read = await server.read();
    for (const path of ["kit/slider.rig.yaml", "kit/a.camera.yaml", "moves/table.set.yaml"]) {
      assert.ok(read.includes(uri(path)), path);
    }
  });

  it("solves: the take is the one that Node gives", async () => {
    const answer = await server.ask<TakeResult>("movewright/take", textDocument);
    assert.ok("take" in answer);
    const { t, value } = unpackTake(answer.take.samples);
    const row = t.indexOf(4);
    // At the key `right` the slide is at -0.3 m and pan at atan2(0.3, 2).
    assert.ok(Math.abs(value[row * 4] + 0.3) < 1e-12);
    assert.ok(Math.abs(value[row * 4 + 1] - Math.atan2(0.3, 2)) < 1e-9);
  });

  it("answers hover, completion and definition", async () => {
    const hover = await server.ask<Hover>("textDocument/hover", { textDocument, position: at(MOVE, "name: right") });
    assert.match((hover.contents as MarkupContent).value, /`slide` \| -0\.3 m/);
    const position = at(MOVE, "lid, framing", 3);
    const items = await server.ask<CompletionItem[]>("textDocument/completion", { textDocument, position });
    assert.ok(items.some(({ label }) => label === "spout"));
    const places = await server.ask<Location[]>("textDocument/definition", { textDocument, position });
    assert.deepEqual(
      places.map((place) => place.uri),
      [uri("moves/table.set.yaml")],
    );
  });

  it("follows a file that changes, and checks the workspace that the client lists", async () => {
    await server.put(uri("kit/slider.rig.yaml"), RIG.replace("speed: 0.4", "speed: 0.2"));
    await server.tell("workspace/didChangeWatchedFiles", { changes: [{ uri: uri("kit/slider.rig.yaml"), type: 2 }] });
    let items = await pull();
    for (let round = 0; round < 50 && !codes(items).includes("axis-speed"); round += 1) items = await pull();
    assert.ok(codes(items).includes("axis-speed"));
    const report = await server.ask<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds: [] });
    assert.deepEqual(report.items.map((item) => item.uri).sort(), [
      uri("kit/a.camera.yaml"),
      uri("kit/slider.rig.yaml"),
      uri("moves/table.set.yaml"),
    ]);
    assert.deepEqual(server.complaints, []);
  });
});
