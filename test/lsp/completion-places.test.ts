import assert from "node:assert/strict";
import type { CompletionItem, TextEdit } from "vscode-languageserver-protocol";
import { parseTree } from "../../core/syntax/parse.ts";
import { FIELDS, SNIPPETS } from "./completion-item-rows.ts";
import { FLOW_MOVE, NAMES, SET_JSON, SHOOT, VALUES, type PlaceRow } from "./completion-rows.ts";
import { MOVE, MOVE_JSON, RIG, SET, WORKSPACE } from "./documents.ts";
import { ABLE, offsetAt, positionAt, startServer, type Client } from "./harness.ts";

const ROWS = { values: VALUES, names: NAMES, fields: FIELDS, snippets: SNIPPETS } as const;

const DOCUMENTS: Readonly<Record<PlaceRow["doc"], { readonly path: string; readonly text: string }>> = {
  block: { path: "moves/along.move.yaml", text: MOVE },
  flow: { path: "moves/flow.move.yaml", text: FLOW_MOVE },
  json: { path: "moves/json.move.json", text: MOVE_JSON },
  set: { path: "moves/table.set.yaml", text: SET },
  "set-json": { path: "moves/other.set.json", text: SET_JSON },
  rig: { path: "kit/slider.rig.yaml", text: RIG },
  shoot: { path: "moves/day.shoot.yaml", text: SHOOT },
};

describe("completion at a place", () => {
  let client: Client;
  let version = 1;
  before(async () => {
    const own = Object.fromEntries(Object.values(DOCUMENTS).map(({ path, text }) => [path, text]));
    client = await startServer({ ...WORKSPACE, ...own });
    for (const { path, text } of Object.values(DOCUMENTS)) await client.open(path, text);
    for (const doc of ["block", "flow", "json"] as const) await solvedOnce(DOCUMENTS[doc].path);
  });
  after(async () => assert.equal(await client.stop(), 0));

  /** Asks for what needs the motion, so that there is a last good one. */
  const solvedOnce = (path: string) =>
    client.connection.sendRequest("textDocument/codeLens", { textDocument: { uri: client.uri(path) } });

  const ask = async (path: string, text: string, offset: number): Promise<readonly CompletionItem[]> => {
    await client.change(path, text, (version += 1));
    const items = await client.connection.sendRequest<CompletionItem[] | null>("textDocument/completion", {
      textDocument: { uri: client.uri(path) },
      position: positionAt(text, offset),
    });
    return items ?? [];
  };

  const check = async ({ doc, old, put, offers, not = [], detail, becomes, first, last }: PlaceRow) => {
    const { path, text } = DOCUMENTS[doc];
    const start = text.indexOf(old);
    assert.ok(start >= 0, `${old} is in the text`);
    const shift = put.indexOf("|");
    await client.change(path, text, (version += 1));
    const written = text.slice(0, start) + put.replace("|", "") + text.slice(start + old.length);
    const items = await ask(path, written, start + shift);
    const labels = items.map(({ label }) => label);
    if (offers.length === 0) assert.deepEqual(labels, []);
    for (const label of offers) assert.ok(labels.includes(label), `${label} among ${labels.join(", ")}`);
    for (const label of not) assert.ok(!labels.includes(label), `${label} not among ${labels.join(", ")}`);
    const item = items.find(({ label }) => label === offers[0]);
    if (!item) return;
    if (first) assert.equal(labels[0], offers[0]);
    if (last !== undefined) assert.equal(labels[labels.length - 1], last);
    if (detail) assert.match(item.detail ?? "", detail);
    const taken = takenText(written, item);
    if (becomes !== undefined) {
      assert.equal(taken.slice(start, start + becomes.length), becomes);
      assert.equal(taken.length, text.length - old.length + becomes.length);
    }
    const format = path.endsWith("json") ? "json" : "yaml";
    const [before, after] = [written, taken].map((each) => parseTree(each, format).problems);
    assert.ok(after.length <= before.length, `${after.map(({ message }) => message).join("\n")} in\n${taken}`);
  };

  for (const [what, rows] of Object.entries(ROWS)) {
    describe(`offers ${what}:`, () => {
      for (const row of rows) it(`${row.doc}: ${row.name}`, () => check(row));
    });
  }

  it("has a table of sixty places or more", () => {
    assert.ok(Object.values(ROWS).flat().length >= 60);
  });

  it("ranks findings that stand in the key first among the codes to allow", async () => {
    const fast = MOVE.replace("at: 4 s", "at: 1 s");
    const path = "moves/fast.move.yaml";
    await client.open(path, fast);
    await solvedOnce(path);
    const marked = fast.replace("name: right", "allow: [{ code: ");
    const items = await ask(path, marked, marked.indexOf("code: ") + "code: ".length);
    const top = items[0];
    assert.ok(["axis-speed", "axis-accel"].includes(top.label), items.map(({ label }) => label).join(", "));
    assert.match(top.detail ?? "", /stands here/);
  });
});

describe("completion for a client that knows no snippets", () => {
  it("gives whole items as plain text", async () => {
    const plain = { ...ABLE, textDocument: { ...ABLE.textDocument, completion: { completionItem: {} } } };
    const client = await startServer(WORKSPACE, plain);
    const text = MOVE.replace("keys:\n", "passes:\n  - \nkeys:\n");
    await client.open("moves/along.move.yaml", text);
    const offset = text.indexOf("  - \n") + 4;
    const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", {
      textDocument: { uri: client.uri("moves/along.move.yaml") },
      position: positionAt(text, offset),
    });
    const pass = items.find(({ label }) => label === "new pass");
    assert.equal((pass?.textEdit as TextEdit).newText, "name: second\n    times: 1");
    assert.equal(pass?.insertTextFormat, 1);
    assert.equal(await client.stop(), 0);
  });
});

/** The text after an item was taken, each hole with what stands in it at first. */
function takenText(text: string, { textEdit, additionalTextEdits = [], insertTextFormat }: CompletionItem): string {
  const main = textEdit as TextEdit;
  const filled = insertTextFormat === 2 ? filledText(main.newText) : main.newText;
  const edits = [{ ...main, newText: filled }, ...additionalTextEdits].sort(
    (one, other) => offsetAt(text, other.range.start) - offsetAt(text, one.range.start),
  );
  return edits.reduce(
    (now, { range, newText }) =>
      now.slice(0, offsetAt(text, range.start)) + newText + now.slice(offsetAt(text, range.end)),
    text,
  );
}

function filledText(snippet: string): string {
  return snippet
    .replace(/\$\{\d+:((?:\\.|[^}\\])*)\}/g, "$1")
    .replace(/\$\d+/g, "")
    .replace(/\\([\\$}])/g, "$1");
}
