import assert from "node:assert/strict";
import type { CodeAction, Diagnostic, TextEdit } from "vscode-languageserver-protocol";
import { MOVE, MOVE_JSON, WORKSPACE } from "./documents.ts";
import { ABLE, codes, offsetAt, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const TRIES = 20;
/** From rest to rest 0.6 m take 15/8 · 0.6 m / 0.4 m/s = 2.8125 s at least. */
const FAST = `${MOVE.replace("at: 4 s", "stop: true\n    at: 2 s")}  - { after: 2 s, axes: { slide: 0.3 }, stop: true }
`;

const applied = (text: string, edits: readonly TextEdit[]): string =>
  [...edits]
    .map(({ range, newText }) => ({ from: offsetAt(text, range.start), to: offsetAt(text, range.end), newText }))
    .sort((one, other) => other.from - one.from)
    .reduce((now, { from, to, newText }) => now.slice(0, from) + newText + now.slice(to), text);

describe("cures for a whole document", () => {
  let client: Client;
  before(async () => (client = await startServer(WORKSPACE)));
  after(async () => assert.equal(await client.stop(), 0));

  const ask = (path: string, range: Diagnostic["range"], only?: string[]) =>
    client.connection.sendRequest<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri: client.uri(path) },
      range,
      context: { diagnostics: [], only },
    });
  const editsOf = async (path: string, action: CodeAction): Promise<readonly TextEdit[]> => {
    const whole = action.edit ? action : await client.connection.sendRequest<CodeAction>("codeAction/resolve", action);
    return whole.edit?.changes?.[client.uri(path)] ?? [];
  };
  /** The action whose title begins so, once what it comes to is known. */
  const known = async (path: string, range: Diagnostic["range"], title: RegExp): Promise<CodeAction> => {
    for (let tries = 1; ; tries++) {
      const actions = await ask(path, range);
      const action = actions.find((each) => title.test(each.title));
      if (action) return action;
      assert.ok(tries < TRIES, actions.map((each) => each.title).join("; "));
    }
  };

  it("are offered with what they come to, and end all findings of the code", async () => {
    await client.open(PATH, FAST);
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    const own = items.filter(({ code }) => code === "axis-speed");
    assert.ok(own.length > 1);
    const title = /^Cure all \d `axis-speed` findings in this document: the move's 6 s become [\d.]+ s/;
    const action = await known(PATH, own[0].range, title);
    assert.equal(action.kind, "quickfix");
    const text = applied(FAST, await editsOf(PATH, action));
    await client.change(PATH, text, 2);
    await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
    assert.equal(text.replaceAll(/[\d.]+ s/g, "_"), FAST.replaceAll(/[\d.]+ s/g, "_"), "times alone are others");
  });

  it("offer more time, another ease and other values for one finding, and prefer what keeps the picture", async () => {
    // Without its turntable, which would have to start too hard for an even pace.
    const fast = MOVE.replace("at: 4 s", "at: 2 s").replaceAll("plate: 30", "plate: 0");
    await client.change(PATH, fast, 3);
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    const { range } = items.find(({ code }) => code === "axis-speed")!;
    const pace = await known(
      PATH,
      range,
      /^Take the way to right at an even pace, with ramps of [\d.]+ s: slide then reaches 0\.\d+ m\/s of 0\.4 m\/s$/,
    );
    const stretch = await known(PATH, range, /^Stretch the way from left to right/);
    const value = await known(PATH, range, /^Set slide at (left|right) from -?0\.3 to -?0\.\d+ m: slide then reaches/);
    assert.equal(stretch.isPreferred, true);
    assert.equal(pace.isPreferred, undefined);
    for (const action of [pace, value]) {
      await client.change(PATH, applied(fast, await editsOf(PATH, action)), 4);
      await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"));
      await client.change(PATH, fast, 5);
      await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    }
  });

  it("mend on save what changes no motion, and nothing else", async () => {
    const path = "moves/loose.move.json";
    const loose = MOVE_JSON.replace(/\}\s*$/, ",} // the end\n");
    await client.open(path, loose);
    const start = { line: 0, character: 0 };
    const [action, ...more] = await ask(path, { start, end: start }, ["source.fixAll"]);
    assert.equal(more.length, 0);
    assert.equal(action.kind, "source.fixAll.movewright");
    assert.deepEqual(JSON.parse(applied(loose, await editsOf(path, action))), JSON.parse(MOVE_JSON));
    await client.change(PATH, FAST.replace("focus: lid", "focus: lit"), 6);
    assert.deepEqual(await ask(PATH, { start, end: start }, ["source.fixAll"]), []);
    assert.ok((await ask(path, { start, end: start })).every(({ kind }) => kind?.startsWith("source") !== true));
  });

  it("are announced by their kinds", () => {
    assert.deepEqual(client.initialized.capabilities.codeActionProvider, {
      codeActionKinds: ["quickfix", "refactor.rewrite", "refactor.rewrite.convert", "source.fixAll.movewright"],
      resolveProvider: true,
    });
  });

  it("are not offered to clients that take commands alone", async () => {
    const plain = await startServer(WORKSPACE, { ...ABLE, textDocument: { ...ABLE.textDocument, codeAction: {} } });
    assert.equal(plain.initialized.capabilities.codeActionProvider, undefined);
    assert.equal(await plain.stop(), 0);
  });
});
