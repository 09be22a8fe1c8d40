import assert from "node:assert/strict";
import type { CodeAction, TextEdit } from "vscode-languageserver-protocol";
import { MOVE, WORKSPACE } from "./documents.ts";
import { ABLE, at, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";

describe("rewriting keys in the editor", () => {
  const able = {
    ...ABLE,
    textDocument: { ...ABLE.textDocument, codeAction: { ...ABLE.textDocument?.codeAction, disabledSupport: true } },
  };
  let client: Client;
  before(async () => {
    client = await startServer(WORKSPACE, able);
    await client.open(PATH, MOVE);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = (word: string, from = client): Promise<CodeAction[]> =>
    from.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri: from.uri(PATH) },
      range: { start: at(MOVE, word), end: at(MOVE, word) },
      context: { diagnostics: [], only: ["refactor.rewrite"] },
    });
  const applied = (action: CodeAction, from = client): string => {
    const edits: TextEdit[] = [...(action.edit?.changes?.[from.uri(PATH)] ?? [])];
    assert.ok(0 < edits.length, action.title);
    edits.sort((one, other) => offsetAt(MOVE, other.range.start) - offsetAt(MOVE, one.range.start));
    return edits.reduce(
      (now, { range, newText }) =>
        now.slice(0, offsetAt(MOVE, range.start)) + newText + now.slice(offsetAt(MOVE, range.end)),
      MOVE,
    );
  };
  const titled = (actions: readonly CodeAction[], title: RegExp): CodeAction => {
    const found = actions.find((each) => title.test(each.title));
    assert.ok(found, `${String(title)} among ${actions.map((each) => each.title).join("; ")}`);
    return found;
  };

  it("makes an edit when it is asked for", async () => {
    const action = titled(await ask("name: right"), /^State the times of all keys from the beginning/);
    assert.deepEqual([action.kind, action.edit], ["refactor.rewrite", undefined]);
    const resolved = await client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
    assert.equal(applied(resolved), MOVE.replace("after: 2 s", "at: 6 s"));
  });

  it("converts the unit at the cursor", async () => {
    const action = titled(await ask("4 s"), /^Convert to frames: 100 f$/);
    const resolved = await client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
    assert.equal(applied(resolved), MOVE.replace("at: 4 s", "at: 100 f"));
  });

  it("makes the edits at once for an editor that does not ask again", async () => {
    const codeAction = { ...ABLE.textDocument?.codeAction, resolveSupport: undefined };
    const plain = await startServer(WORKSPACE, { ...ABLE, textDocument: { ...ABLE.textDocument, codeAction } });
    await plain.open(PATH, MOVE);
    const action = titled(await ask("name: left", plain), /^Add a key half way to the next, at 2 s$/);
    assert.equal(
      applied(action, plain),
      MOVE.replace("  - at: 4 s", "  - at: 2 s\n    axes: { slide: 0, plate: 15 }\n  - at: 4 s"),
    );
    assert.equal(await plain.stop(), 0);
  });
});
