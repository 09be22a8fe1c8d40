import assert from "node:assert/strict";
import { CancellationTokenSource, LSPErrorCodes, ResponseError } from "vscode-languageserver-protocol";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { at, codes, startServer, type Client } from "./harness.ts";
import { longMove } from "./long-move.ts";

const PATH = "moves/along.move.yaml";

describe("the life of a server", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE)));
  after(async () => assert.equal(await client.stop(), 0));
  const hover = () =>
    client.connection.sendRequest("textDocument/hover", {
      textDocument: { uri: client.uri(PATH) },
      position: at(MOVE, "title"),
    });
  const isError = (error: unknown, code: number) => error instanceof ResponseError && error.code === code;

  it("names itself", () => assert.equal(client.initialized.serverInfo?.name, "Movewright"));

  it("answers other requests while a long move is solved", async () => {
    await client.open(PATH, MOVE);
    // An outline waits for the first motion of its own move.
    await hover();
    await client.open("moves/long.move.yaml", longMove(150));
    let isSolved = false;
    const take = client.connection
      .sendRequest("movewright/take", { uri: client.uri("moves/long.move.yaml") })
      .then(() => (isSolved = true));
    const symbols = await client.connection.sendRequest<unknown[]>("textDocument/documentSymbol", {
      textDocument: { uri: client.uri(PATH) },
    });
    assert.equal(symbols.length, 7);
    assert.equal(isSolved, false, "the outline came before the long move was solved");
    await take;
  });

  it("answers a cancelled request at once", async () => {
    await client.change("moves/long.move.yaml", longMove(151), 2);
    const source = new CancellationTokenSource();
    const started = Date.now();
    const take = client.connection.sendRequest(
      "movewright/take",
      { uri: client.uri("moves/long.move.yaml") },
      source.token,
    );
    setTimeout(() => source.cancel(), 20);
    await assert.rejects(take, (error) => isError(error, LSPErrorCodes.RequestCancelled));
    const cancelled = Date.now() - started;
    await client.connection.sendRequest("movewright/take", { uri: client.uri("moves/long.move.yaml") });
    assert.ok(cancelled < Date.now() - started, "it did not wait for the move");
    await client.close("moves/long.move.yaml");
  });

  it("refuses to answer about a text that changed after the question", async () => {
    await client.change(PATH, longMove(120), 2);
    const question = client.connection.sendRequest("textDocument/hover", {
      textDocument: { uri: client.uri(PATH) },
      position: at(longMove(120), "at: 4 s"),
    });
    await client.change(PATH, MOVE, 3);
    await assert.rejects(question, (error) => isError(error, LSPErrorCodes.ContentModified));
    assert.ok(await hover());
  });

  it("lives on after questions about nothing", async () => {
    const uri = client.uri("moves/none.move.yaml");
    const position = { line: 99, character: 99 };
    for (const method of ["hover", "completion", "definition", "documentSymbol", "documentLink", "codeLens"]) {
      const answer = await client.connection.sendRequest(`textDocument/${method}`, { textDocument: { uri }, position });
      assert.ok(answer === null || Array.isArray(answer), method);
    }
    assert.ok(await hover());
  });

  it("lives on after documents that hold anything at all", async () => {
    const texts = ["", "\u0000", "%YAML 9.9\n---\n...", "[[[[", "a: &a [*a]", "{", "move: 1\nkeys: 5", "\ufeffmove: 1"];
    for (const [idx, text] of texts.entries()) {
      const path = `moves/odd-${idx}.move.yaml`;
      await client.open(path, text);
      const report = await client.pull(path);
      assert.ok(report.kind === "full" && report.items.length > 0, JSON.stringify(text));
      assert.ok(!codes(report.items).includes("internal-error"), JSON.stringify(report.items));
      await client.close(path);
    }
    assert.ok(await hover());
  });

  it("counts characters as UTF-16 does, and lines that end in CRLF", async () => {
    const text = MOVE.replace("title: Along the table", "title: Teekanne 🫖 急須").replace(
      "focus: lid",
      "note: 🫖🫖\n    focus: lit",
    );
    const crlf = text.replaceAll("\n", "\r\n");
    await client.change(PATH, crlf, 4);
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("unknown-target"));
    const { range } = items.find(({ code }) => code === "unknown-target")!;
    assert.equal(crlf.split("\r\n")[range.start.line].slice(range.start.character, range.end.character), "lit");
    await client.change(PATH, MOVE, 5);
  });

  it("applies changes of parts of the text", async () => {
    await client.connection.sendNotification("textDocument/didChange", {
      textDocument: { uri: client.uri(PATH), version: 6 },
      contentChanges: [
        { range: { start: at(MOVE, "lid, framing"), end: at(MOVE, "lid, framing", 3) }, text: "lit" },
        { range: { start: at(MOVE, "focus: lid", 7), end: at(MOVE, "focus: lid", 10) }, text: "spout" },
      ],
    });
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("unknown-target"));
    assert.equal(items.filter(({ code }) => code === "unknown-target").length, 1);
    await client.change(PATH, MOVE, 7);
  });

  it("reads nothing outside of the workspace", async () => {
    await client.change(PATH, MOVE.replace("../kit/slider.rig.yaml", "../../../etc/slider.rig.yaml"), 8);
    const items = await client.pullUntil(PATH, (found) => found.length > 0);
    assert.ok(codes(items).includes("missing-file"));
    await client.change(PATH, MOVE, 9);
  });

  it("ends with 0 after shutdown, and with 1 without", async () => {
    const polite = await startServer({ "a.rig.yaml": RIG });
    assert.equal(await polite.stop(), 0);
    const abrupt = await startServer({ "a.rig.yaml": RIG });
    await abrupt.connection.sendNotification("exit");
    assert.equal(await abrupt.exited, 1);
    abrupt.connection.dispose();
  });
});
