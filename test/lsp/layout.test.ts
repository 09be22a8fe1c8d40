import assert from "node:assert/strict";
import type { FoldingRange, SelectionRange, SymbolInformation } from "vscode-languageserver-protocol";
import { MOVE, WORKSPACE } from "./documents.ts";
import { ABLE, at, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("selections, folds and symbols of the workspace", () => {
  let client: Client;
  before(async () => {
    client = await startServer(WORKSPACE);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  it("grow a selection from the value to the document, for each cursor", async () => {
    const [one, other] = await client.connection.sendRequest<SelectionRange[]>("textDocument/selectionRange", {
      textDocument: { uri: client.uri(PATH) },
      positions: [at(MOVE, "lid, framing", 1), at(MOVE, "rate: 25", 7)],
    });
    const texts = (range: SelectionRange | undefined): string[] =>
      range ? [textIn(MOVE, range.range), ...texts(range.parent)] : [];
    assert.deepEqual(texts(one).slice(0, 3), ["lid", "at: lid", "{ at: lid, framing: [0.5, 0.5] }"]);
    assert.equal(texts(one).at(-1), MOVE);
    assert.deepEqual(texts(other).slice(0, 2), ["25", "rate: 25"]);
  });

  it("fold keys, with a summary where the client shows one", async () => {
    const folds = (asked: Client) =>
      asked.connection.sendRequest<FoldingRange[]>("textDocument/foldingRange", {
        textDocument: { uri: asked.uri(PATH) },
      });
    const found = await folds(client);
    assert.deepEqual(
      found.map(({ startLine, endLine, collapsedText }) => `${startLine}-${endLine} ${collapsedText}`),
      [
        "6-17 3 items",
        "7-11 name: left, at: 0 s, aim: { at: lid, framing: [0.5, 0.5] }",
        "12-14 name: right, at: 4 s",
        "15-17 name: rest, after: 2 s",
      ],
    );
    const plain = await startServer(WORKSPACE, { ...ABLE, textDocument: { ...ABLE.textDocument, foldingRange: {} } });
    await plain.open(PATH, MOVE);
    assert.ok((await folds(plain)).every((fold) => fold.collapsedText === undefined));
    assert.equal(await plain.stop(), 0);
  });

  it("find documents by their titles, and what they define, without opening them", async () => {
    const found = async (query: string) =>
      (await client.connection.sendRequest<SymbolInformation[]>("workspace/symbol", { query })).map(
        ({ name, containerName }) => `${name} (${containerName})`,
      );
    assert.deepEqual(await found("move: along"), ["move: Along the table (along.move.yaml)"]);
    assert.deepEqual(await found("axis"), [
      "axis: slide (slider.rig.yaml)",
      "axis: pan (slider.rig.yaml)",
      "axis: tilt (slider.rig.yaml)",
    ]);
    assert.deepEqual(await found("prim35"), ["lens: prime-35 (a.camera.yaml)"]);
    assert.deepEqual(await found("no such thing"), []);
    const all = await found("");
    for (const name of ["rig: Slider", "set: table.set.yaml", "key: left", "target: spout", "turntable: plate"]) {
      assert.ok(
        all.some((each) => each.startsWith(name)),
        `${name} among ${all.join(", ")}`,
      );
    }
  });
});
