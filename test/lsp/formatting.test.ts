import assert from "node:assert/strict";
import type { FormattingOptions, TextEdit } from "vscode-languageserver-protocol/node.js";
import { ABLE, at, offsetAt, startServer, type Client } from "./harness.ts";

const TWO_BLANKS: FormattingOptions = { tabSize: 2, insertSpaces: true };

/** The text after edits as a client makes them: places are of the text before all of them. */
function edited(text: string, edits: readonly TextEdit[] | null): string {
  return [...(edits ?? [])]
    .sort((a, b) => offsetAt(text, b.range.start) - offsetAt(text, a.range.start))
    .reduce(
      (now, { range, newText }) =>
        now.slice(0, offsetAt(text, range.start)) + newText + now.slice(offsetAt(text, range.end)),
      text,
    );
}

const UNTIDY = `move:   1
keys:
- {at: 0 s,aim: lid}   # the knob
- {at: 10 s,aim: spout}  # 注ぎ口


- at: 12 s
  axes: {slide: 0.1}
`;

const TIDY = `move: 1
keys:
  - { at:  0 s, aim: lid }   # the knob
  - { at: 10 s, aim: spout } # 注ぎ口

  - at: 12 s
    axes: { slide: 0.1 }
`;

describe("formatting over a connection", function () {
  this.timeout(60_000);
  let client: Client;
  let version = 1;

  const open = async (path: string, text: string): Promise<string> => {
    await client.open(path, text, (version += 1));
    return client.uri(path);
  };
  const format = async (path: string, text: string, options = TWO_BLANKS): Promise<TextEdit[] | null> => {
    const uri = await open(path, text);
    return client.connection.sendRequest("textDocument/formatting", { textDocument: { uri }, options });
  };

  before(async () => (client = await startServer({}, ABLE)));
  after(async () => assert.equal(await client.stop(), 0));

  it("lays out a document by edits of blanks alone, and has none for one that is laid out", async () => {
    const edits = await format("a.move.yaml", UNTIDY);
    assert.equal(edited(UNTIDY, edits), TIDY);
    assert.ok((edits ?? []).every(({ newText }) => newText.trim() === ""));
    assert.deepEqual(await format("b.move.yaml", TIDY), []);
  });

  it("keeps line ends of two letters", async () => {
    const text = UNTIDY.replaceAll("\n", "\r\n");
    const edits = await format("c.move.yaml", text);
    const now = edited(text, edits);
    assert.equal(now, TIDY.replaceAll("\n", "\r\n"));
  });

  it("indents JSON as the editor does, and YAML by two blanks", async () => {
    const four = { tabSize: 4, insertSpaces: true };
    const tabs = { tabSize: 4, insertSpaces: false };
    const json = '{\n"move": 1,\n"keys": [\n{ "at": 0 }\n]\n}\n';
    const with4 = '{\n    "move": 1,\n    "keys": [\n        { "at": 0 }\n    ]\n}\n';
    assert.equal(edited(json, await format("a.move.json", json, four)), with4);
    assert.equal(edited(json, await format("b.move.json", json, tabs)), with4.replaceAll("    ", "\t"));
    assert.equal(edited(UNTIDY, await format("d.move.yaml", UNTIDY, tabs)), TIDY);
  });

  it("leaves a text with a fault alone, and says why in the log only", async () => {
    assert.equal(await format("broken.move.yaml", "move:   1\nkeys: [\n"), null);
    assert.equal(await format("broken.move.json", '{ "move": 1,, }'), null);
    await client.until("the log says why", () =>
      client.log.some((line) => /broken\.move\.yaml is left.*line 2/.test(line)),
    );
  });

  it("answers nothing for what is no document of ours", async () => {
    assert.equal(await format("other.yaml", "a:   1\n"), null);
  });

  it("lays out lines", async () => {
    const uri = await open("e.move.yaml", UNTIDY);
    const range = { start: at(UNTIDY, "axes"), end: at(UNTIDY, "axes", 4) };
    const params = { textDocument: { uri }, range, options: TWO_BLANKS };
    const edits = await client.connection.sendRequest<TextEdit[]>("textDocument/rangeFormatting", params);
    // Moved alone, the line would fall out of its key.
    assert.equal(edited(UNTIDY, edits), UNTIDY.replace("{slide: 0.1}", "{ slide: 0.1 }"));
  });

  it("lays out what is finished while it is typed, all but what is at the cursor", async () => {
    const text = "move: 1\nkeys:\n  - { at: 0 s, aim: lid }\n  - {at: 10 s,aim: spout}\n  ";
    const uri = await open("f.move.yaml", text);
    const typed = (ch: string, position: { line: number; character: number }) =>
      client.connection.sendRequest<TextEdit[]>("textDocument/onTypeFormatting", {
        textDocument: { uri },
        position,
        ch,
        options: TWO_BLANKS,
      });
    const now = "move: 1\nkeys:\n  - { at:  0 s, aim: lid }\n  - { at: 10 s, aim: spout }\n  ";
    assert.equal(edited(text, await typed("\n", { line: 4, character: 2 })), now);
    assert.equal(edited(text, await typed("}", at(text, "spout}", 6))), now);
  });

  it("leaves key tables as they come when the setting says so", async () => {
    await client.connection.sendNotification("workspace/didChangeConfiguration", {
      settings: { movewright: { format: { alignKeys: false } } },
    });
    const edits = await format("g.move.yaml", UNTIDY);
    assert.equal(edited(UNTIDY, edits), TIDY.replace("at:  0", "at: 0").replace("}   #", "} #"));
  });
});
