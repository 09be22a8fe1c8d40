import assert from "node:assert/strict";
import type { CodeLens, DocumentSymbol, SymbolInformation } from "vscode-languageserver-protocol";
import { MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("outline and lens", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE)));
  after(async () => assert.equal(await client.stop(), 0));
  const ask = <T>(method: string, path: string) =>
    client.connection.sendRequest<T>(method, { textDocument: { uri: client.uri(path) } });
  const names = (symbols: readonly DocumentSymbol[], name: string) =>
    symbols.find((each) => each.name === name)?.children?.map((each) => `${each.name} ${each.detail}`.trim());

  it("lists the keys of a move with their times", async () => {
    await client.open(PATH, MOVE);
    const symbols = await ask<DocumentSymbol[]>("textDocument/documentSymbol", PATH);
    assert.deepEqual(
      symbols.map(({ name }) => name),
      ["move", "title", "rig", "camera", "set", "rate", "keys"],
    );
    assert.deepEqual(names(symbols, "keys"), ["left at 0 s", "right at 4 s", "rest after 2 s"]);
    const key = symbols.at(-1)!.children![1];
    assert.equal(textIn(MOVE, key.selectionRange), "right");
    assert.match(textIn(MOVE, key.range), /^at: 4 s[^]*plate: 30 }$/);
  });

  it("lists keys without a name by their number, in JSON too", async () => {
    await client.open("moves/a.move.json", MOVE_JSON.replace('"name": "right", ', ""));
    const symbols = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/a.move.json");
    assert.deepEqual(names(symbols, "keys"), ["left at 0 s", "key 2 at 4 s"]);
  });

  it("lists the axes of a rig, and targets and turntables of a set", async () => {
    await client.open("kit/slider.rig.yaml", RIG);
    const rig = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "kit/slider.rig.yaml");
    assert.deepEqual(names(rig, "chain"), ["slide linear", "pan rotary", "tilt rotary"]);
    await client.open("moves/table.set.yaml", SET);
    const set = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/table.set.yaml");
    assert.deepEqual(names(set, "targets"), ["lid", "spout"]);
    assert.deepEqual(names(set, "turntables"), ["plate"]);
  });

  it("is flat for a client that knows no nesting", async () => {
    const flat = await startServer(WORKSPACE, { ...ABLE, textDocument: { ...ABLE.textDocument, documentSymbol: {} } });
    await flat.open(PATH, MOVE);
    const symbols = await flat.connection.sendRequest<SymbolInformation[]>("textDocument/documentSymbol", {
      textDocument: { uri: flat.uri(PATH) },
    });
    const right = symbols.find(({ name }) => name === "right");
    assert.equal(right?.containerName, "keys");
    assert.equal(right?.location.uri, flat.uri(PATH));
    assert.equal(await flat.stop(), 0);
  });

  it("is there while the text is broken", async () => {
    await client.change(PATH, `${MOVE}  - at: [\n`, 2);
    const symbols = await ask<DocumentSymbol[]>("textDocument/documentSymbol", PATH);
    assert.ok((names(symbols, "keys") ?? []).includes("right at 4 s"));
    await client.change(PATH, MOVE, 3);
  });

  it("has a lens on a move that opens its stage and says how near it comes to a limit", async () => {
    const lenses = await ask<CodeLens[]>("textDocument/codeLens", PATH);
    assert.equal(lenses.length, 1);
    const [{ command, range }] = lenses;
    assert.equal(range.start.line, 0);
    assert.equal(command?.command, "movewright.openStage");
    assert.deepEqual(command?.arguments, [client.uri(PATH)]);
    assert.equal(command?.title, "Open stage, 6 s, 70 % of the speed limit of slide");
    assert.deepEqual(await ask<CodeLens[]>("textDocument/codeLens", "kit/slider.rig.yaml"), []);
  });
});
