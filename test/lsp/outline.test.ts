import assert from "node:assert/strict";
import type { DocumentSymbol, SymbolInformation } from "vscode-languageserver-protocol";
import { MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, startServer, textIn, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("outline", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE)));
  after(async () => assert.equal(await client.stop(), 0));
  const ask = <T>(method: string, path: string) =>
    client.connection.sendRequest<T>(method, { textDocument: { uri: client.uri(path) } });
  const names = (symbols: readonly DocumentSymbol[], name: string) =>
    symbols.find((each) => each.name === name)?.children?.map((each) => `${each.name} ${each.detail}`.trim());

  /** Lists once the move is solved: the outline waits a moment only for the first motion of a move. */
  const solved = async (path: string) => {
    await ask("textDocument/codeLens", path);
    return ask<DocumentSymbol[]>("textDocument/documentSymbol", path);
  };

  it("lists the keys of a move with their times and the peaks on the way to them", async () => {
    await client.open(PATH, MOVE);
    assert.deepEqual(names(await ask<DocumentSymbol[]>("textDocument/documentSymbol", PATH), "keys")?.length, 3);
    const symbols = await solved(PATH);
    assert.equal(symbols[0].detail, "6 s, 70 % of slide speed");
    assert.deepEqual(
      symbols.map(({ name }) => name),
      ["move", "title", "rig", "camera", "set", "rate", "keys"],
    );
    assert.deepEqual(names(symbols, "keys"), [
      "left 0 s, 00:00:00:00",
      "right 4 s, 00:00:04:00, 70 % of slide speed",
      "rest 6 s, 00:00:06:00, 0 % of slide speed",
    ]);
    const key = symbols.at(-1)!.children![1];
    assert.equal(textIn(MOVE, key.selectionRange), "right");
    assert.match(textIn(MOVE, key.range), /^at: 4 s[^]*plate: 30 }$/);
  });

  it("lists keys without a name by their number, in JSON too", async () => {
    await client.open("moves/a.move.json", MOVE_JSON.replace('"name": "right", ', ""));
    const symbols = await solved("moves/a.move.json");
    assert.deepEqual(names(symbols, "keys"), ["left 0 s, 00:00:00:00", "key 2 4 s, 00:00:04:00, 70 % of slide speed"]);
  });

  it("lists the axes of a rig, and targets and turntables of a set", async () => {
    await client.open("kit/slider.rig.yaml", RIG);
    const rig = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "kit/slider.rig.yaml");
    assert.deepEqual(names(rig, "chain"), [
      "slide linear, -0.6 to 0.6",
      "pan rotary, -170 to 170",
      "tilt rotary, -90 to 60",
    ]);
    await client.open("moves/table.set.yaml", SET);
    const set = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/table.set.yaml");
    assert.deepEqual(names(set, "targets"), ["lid at [2, 0, 1]", "spout at [0.2, 0, 0], on plate"]);
    assert.deepEqual(names(set, "turntables"), ["plate -360 to 360, at [2, 0.3, 0.9]"]);
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
    // With what was solved last.
    assert.ok((names(symbols, "keys") ?? []).includes("right 4 s, 00:00:04:00, 70 % of slide speed"));
    await client.change(PATH, MOVE, 3);
  });

  it("tells what is written where nothing can be solved", async () => {
    const lost = MOVE.replace("../kit/slider.rig.yaml", "gone.rig.yaml");
    await client.open("moves/lost.move.yaml", lost);
    const symbols = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/lost.move.yaml");
    assert.deepEqual(names(symbols, "keys"), ["left at 0 s", "right at 4 s", "rest after 2 s"]);
  });

  it("lists bodies by their shapes, shots by their moves, and what is expected", async () => {
    const set = `${SET}obstacles:\n  post: { at: [1, 1, 0], cylinder: { radius: 0.1, height: 2 } }\n`;
    await client.open("moves/post.set.yaml", set);
    const bodies = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/post.set.yaml");
    assert.deepEqual(names(bodies, "obstacles"), ["post cylinder, at [1, 1, 0]"]);
    await client.open("day.shoot.yaml", "shoot: 1\nshots: [{ move: moves/along.move.yaml }, { name: lid, move: a }]\n");
    const shots = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "day.shoot.yaml");
    assert.deepEqual(names(shots, "shots"), ["moves/along.move.yaml", "lid"]);
    await client.open("moves/e.move.yaml", `${MOVE}expect: [{ of: slide.speed, below: 0.3, at: 4 s }]\n`);
    const tests = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/e.move.yaml");
    assert.deepEqual(names(tests, "expect"), ["slide.speed at 4 s, below 0.3"]);
  });

  it("stops at 5000 lines", async () => {
    const keys = Array.from({ length: 5100 }, (_, idx) => `  - { at: ${idx} s }`).join("\n");
    await client.open("moves/long.move.yaml", `move: 1\nkeys:\n${keys}\npasses: [{ name: one }]\n`);
    const symbols = await ask<DocumentSymbol[]>("textDocument/documentSymbol", "moves/long.move.yaml");
    const count = symbols.reduce((sum, { children = [] }) => sum + 1 + children.length, 0);
    assert.equal(count, 5000);
  });
});
