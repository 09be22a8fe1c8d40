import assert from "node:assert/strict";
import type { Diagnostic } from "vscode-languageserver-protocol";
import { TAKE_REQUEST } from "../../protocol/requests.ts";
import { MOVE, WORKSPACE } from "./documents.ts";
import { positionAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

/** What stands in the document and what it becomes, one after the other. Faults come and are mended again. */
const EDITS: readonly (readonly [string, string])[] = [
  ["at: 4 s", "at: 1.5 s"],
  ["rate: 25\n", "rate: 25\n# allow axis-speed: meant\n"],
  ["    focus: lid\n", "    focus: ld\n    iri\n"],
  ["    iri\n", "    iris: 4\n"],
  ["aim: { at: lid", "aim: { at: &a lid"],
  ["&a lid, framing", "'lid, framing"],
  ["'lid,", "lid,"],
  ["keys:\n", "# é😀\nkeys:\n  # first\n"],
  ["focus: ld", "focus: lid"],
  ["  - after: 2 s\n", "  - after: 1 s\n    name: slow\n    axes: { slide: -0.2 }\n  - after: 2 s\n"],
  ["at: 1.5 s", "at: 4 s"],
];

describe("diagnostics while a document is typed", () => {
  let typed: Client;
  let fresh: Client;
  before(async () => {
    typed = await startServer(WORKSPACE);
    fresh = await startServer(WORKSPACE);
  });
  after(async () => {
    for (const client of [typed, fresh]) assert.equal(await client.stop(), 0);
  });

  /** All diagnostics of a document once its motion is known, which the take waits for. */
  const settled = async (client: Client, path: string): Promise<readonly Diagnostic[]> => {
    await client.connection.sendRequest(TAKE_REQUEST, { uri: client.uri(path) });
    const report = await client.pull(path);
    assert.equal(report.kind, "full");
    const items = report.kind === "full" ? report.items : [];
    const text = JSON.stringify(items).replaceAll(client.uri(path), "this").replaceAll(client.uri(""), "");
    return JSON.parse(text) as Diagnostic[];
  };

  it("are those of a document that is opened as it stands then", async function () {
    this.timeout(60_000);
    let version = 1;
    let text = MOVE;
    let found = 0;
    /** One keystroke, told as editors tell it. */
    const put = async (from: number, to: number, piece: string): Promise<void> => {
      version += 1;
      const range = { start: positionAt(text, from), end: positionAt(text, to) };
      await typed.connection.sendNotification("textDocument/didChange", {
        textDocument: { uri: typed.uri(PATH), version },
        contentChanges: [{ range, text: piece }],
      });
      text = text.slice(0, from) + piece + text.slice(to);
    };
    await typed.open(PATH, text, version);
    for (const [index, [old, piece]] of EDITS.entries()) {
      const from = text.indexOf(old);
      assert.ok(0 <= from, old);
      await put(from, from + old.length, "");
      for (let at = 0; at < piece.length; at++) {
        await put(from + at, from + at, piece[at]);
        // Now and then the server has the time to answer between two keystrokes.
        if (at % 5 === 0) await typed.pull(PATH);
      }
      const path = `moves/${index}.move.yaml`;
      await fresh.open(path, text);
      const items = await settled(typed, PATH);
      assert.deepEqual(items, await settled(fresh, path), piece);
      found += items.length;
    }
    assert.ok(found > EDITS.length, `${found} diagnostics`);
  });
});
