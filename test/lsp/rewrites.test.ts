import assert from "node:assert/strict";
import type { CodeAction, TextEdit } from "vscode-languageserver-protocol";
import { EDIT_REQUEST, type EditParams, type EditResult } from "../../protocol/requests.ts";
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

  it("reverses the move and mirrors it, where it speaks of the whole, and says beforehand what it can't", async () => {
    const whole = await ask("move: 1");
    const resolved = await client.connection.sendRequest<CodeAction>(
      "codeAction/resolve",
      titled(whole, /^Reverse the move, from its last key to its first$/),
    );
    const first =
      "    name: left\n    axes: { slide: 0.3, plate: 0 }\n    aim: { at: lid, framing: [0.5, 0.5] }\n    focus: lid\n";
    const middle = "    name: right\n    axes: { slide: -0.3, plate: 30 }\n";
    const last = "    name: rest\n    axes: { slide: -0.3, plate: 30 }\n";
    assert.equal(
      applied(resolved),
      MOVE.replace(
        /keys:\n[^]*/,
        `keys:\n  - at: 0 s\n${last}    aim: lid\n  - at: 2 s\n${middle}  - after: 4 s\n${first}`,
      ),
    );
    // The plate is beside the middle plane, and turns.
    const mirror = titled(whole, /^Mirror the move about the middle of the rig's base/);
    assert.equal(mirror.disabled?.reason, "`plate` turns about an axis that does not stand on the plane.");
    assert.ok(!(await ask("name: left")).some(({ title }) => /^(Reverse|Mirror) the move/.test(title)));
  });

  it("shifts a key and all later ones at once, or lets a client ask by how much that can", async () => {
    const action = titled(await ask("name: right"), /^Shift this key and all later ones 1 s later$/);
    const resolved = await client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
    assert.equal(applied(resolved), MOVE.replace("at: 4 s", "at: 5 s"));
    const asking = await startServer(WORKSPACE, ABLE, { commands: ["movewright.shiftLaterKeys"] });
    await asking.open(PATH, MOVE);
    const offered = (await ask("name: right", asking)).filter(({ title }) => title.startsWith("Shift"));
    assert.deepEqual(
      offered.map(({ title, command }) => [title, command?.command, command?.arguments]),
      [
        [
          "Shift this key and all later ones…",
          "movewright.shiftLaterKeys",
          [asking.uri(PATH), at(MOVE, "name: right")],
        ],
      ],
    );
    assert.equal(await asking.stop(), 0);
  });

  it("makes the edits that commands ask for, or says why not", async () => {
    const edit = (params: EditParams["edit"], tries = false): Promise<EditResult> =>
      client.connection.sendRequest<EditResult>(EDIT_REQUEST, { uri: client.uri(PATH), edit: params, tries });
    const position = at(MOVE, "name: right");
    const later = await edit({ kind: "shift-keys", position, by: "-12 f" });
    assert.ok("edits" in later, JSON.stringify(later));
    assert.deepEqual(later.edits, [{ range: rangeOf("4 s"), newText: "3.52 s" }]);
    assert.equal(later.version, 1);
    // Faster than the slide may go: that is said.
    const soon = await edit({ kind: "shift-keys", position, by: "-3 s" });
    assert.ok("edits" in soon && /^It brings a new finding: /.test(soon.note ?? ""), JSON.stringify(soon));
    const tried = await edit({ kind: "shift-keys", position, by: "-3 s" }, true);
    assert.ok("edits" in tried && tried.note === undefined);
    const added = await edit({ kind: "add-key", time: 1 });
    assert.ok("edits" in added && added.note === undefined, JSON.stringify(added));
    // Least jerk from rest to rest (Flash & Hogan 1985): 0.103515625 of the way is done at a quarter of the time.
    assert.equal(added.edits[0].newText.trim(), "- at: 1 s\n    axes: { slide: 0.237891, plate: 3.10547 }");
    for (const [params, why] of [
      [{ kind: "shift-keys", position, by: "-4 s" }, "`right` can come earlier by less than 4 s: `left` is at 0 s."],
      [{ kind: "shift-keys", position, by: "soon" }, /^`soon`/],
      [{ kind: "shift-keys", position: at(MOVE, "rate"), by: "1 s" }, "The cursor is in no key."],
      [{ kind: "add-key", time: 4 }, "`right` is at that time already."],
    ] as const) {
      const answer = await edit(params);
      assert.ok("refusal" in answer, JSON.stringify(answer));
      if (typeof why === "string") assert.equal(answer.refusal, why);
      else assert.match(answer.refusal, why);
    }
  });

  const rangeOf = (word: string) => ({ start: at(MOVE, word), end: at(MOVE, word, word.length) });
});
