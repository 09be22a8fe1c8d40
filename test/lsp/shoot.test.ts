import assert from "node:assert/strict";
import type {
  CompletionItem,
  DocumentDiagnosticReport,
  Location,
  TextEdit,
  WorkspaceEdit,
} from "vscode-languageserver-protocol";
import { MOVE, RIG, WORKSPACE } from "./documents.ts";
import { at, codes, offsetAt, positionAt, PUSHED, startServer, textIn, type Client } from "./harness.ts";

const PATH = "day.shoot.yaml";
const ALONG = "moves/along.move.yaml";
const BACK = "moves/back.move.yaml";

const SHOOT = `shoot: 1
shots:
  - move: moves/along.move.yaml
    setup-time: 20 min
  - { name: back again, move: moves/back.move.yaml }
match:
  - { from: moves/along.move.yaml#left, to: "moves/back.move.yaml#left", about: lid }
`;
/** The framing of the first key is another one than in the move beside it. */
const OFF = MOVE.replace("[0.5, 0.5]", "[0.4, 0.5]");
const TEXTS: Readonly<Record<string, string>> = { ...WORKSPACE, [BACK]: MOVE, [PATH]: SHOOT };

describe("a shoot in the editor", () => {
  let client: Client;
  before(async () => {
    client = await startServer(TEXTS);
    await client.open(PATH, SHOOT);
  });
  after(async () => assert.equal(await client.stop(), 0));

  const pulled = async (): Promise<readonly { readonly code?: string | number; readonly message: string }[]> => {
    const report = await client.connection.sendRequest<DocumentDiagnosticReport>("textDocument/diagnostic", {
      textDocument: { uri: client.uri(PATH) },
    });
    return report.kind === "full" ? report.items : [];
  };
  const until = async (wanted: readonly string[]): Promise<void> => {
    for (;;) {
      const items = await pulled();
      if (JSON.stringify(items.map(({ code }) => String(code)).sort()) === JSON.stringify(wanted)) return;
      await new Promise((resolve) => setTimeout(resolve, 30));
    }
  };

  it("has findings of its moves beside each other, which follow a move that is edited", async () => {
    await until([]);
    await client.open(BACK, OFF, 1);
    await until(["match"]);
    await client.change(BACK, MOVE, 2);
    await until([]);
    await client.close(BACK);
  });

  it("follows a rig that changes on disk", async () => {
    const power = "power: { battery: 10 Wh, idle: 60 W }\n";
    client.write("kit/slider.rig.yaml", RIG + power);
    await client.watched("kit/slider.rig.yaml", 2);
    await until(["power"]);
    client.write("kit/slider.rig.yaml", RIG);
    await client.watched("kit/slider.rig.yaml", 2);
    await until([]);
  });

  it("leads from the key of a cut to its definition in that move alone, and from its file to the file", async () => {
    const definition = async (word: string, shift: number, nth = 0) => {
      const found = await client.connection.sendRequest<Location[] | null>("textDocument/definition", {
        textDocument: { uri: client.uri(PATH) },
        position: at(SHOOT, word, shift, nth),
      });
      return (found ?? []).map(({ uri, range }) => {
        const path = Object.keys(TEXTS).find((each) => client.uri(each) === uri) ?? uri;
        return `${path} ${textIn(TEXTS[path], range)}`;
      });
    };
    assert.deepEqual(await definition("yaml#left", 7), [`${ALONG} left`]);
    assert.deepEqual(await definition("yaml#left", 7, 1), [`${BACK} left`]);
    assert.deepEqual(await definition("moves/along.move.yaml#", 3), [`${ALONG} `]);
    assert.deepEqual(await definition("about: lid", 8), ["moves/table.set.yaml lid"]);
  });

  it("is renamed along with a key", async () => {
    const edit = await client.connection.sendRequest<WorkspaceEdit>("textDocument/rename", {
      textDocument: { uri: client.uri(PATH) },
      position: at(SHOOT, "yaml#left", 7),
      newName: "outset",
    });
    const changed = Object.entries(edit.changes ?? {}).map(([uri, edits]) => [uri, edits.length]);
    assert.deepEqual(
      changed.sort(),
      [
        [client.uri(PATH), 1],
        [client.uri(ALONG), 1],
      ].sort(),
    );
  });

  /** What is offered at `$0`, and the text after the first of it was taken. */
  const completed = async (text: string): Promise<{ readonly labels: readonly string[]; readonly text: string }> => {
    const cursor = text.indexOf("$0");
    const plain = text.replace("$0", "");
    await client.change(PATH, plain, ++version);
    const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", {
      textDocument: { uri: client.uri(PATH) },
      position: positionAt(plain, cursor),
    });
    const { range, newText } = items[0]?.textEdit as TextEdit;
    const after = plain.slice(0, offsetAt(plain, range.start)) + newText + plain.slice(offsetAt(plain, range.end));
    return { labels: items.map(({ label }) => label), text: after };
  };
  let version = 1;

  it("completes the keys of moves with their files, the passes and the fields of a cut", async () => {
    const cut = (from: string): string => SHOOT.replace("from: moves/along.move.yaml#left", `from: ${from}`);
    const keys = ["left", "rest", "right"].flatMap((key) => [`${ALONG}#${key}`, `${BACK}#${key}`]);
    for (const written of ["$0", "moves/al$0", "moves/along.move.yaml#$0", "moves/along.move.yaml#le$0"]) {
      const { labels, text } = await completed(cut(written));
      assert.deepEqual([...labels].sort(), [...keys].sort(), written);
      assert.equal(text, cut(labels[0]), written);
    }
    const inQuotes = SHOOT.replace('"moves/back.move.yaml#left"', '"moves/back.move.yaml#le$0"');
    const { labels, text } = await completed(inQuotes);
    assert.equal(text, SHOOT.replace("moves/back.move.yaml#left", labels[0]));
    const field = await completed(SHOOT.replace("about: lid }", "about: lid, $0 }"));
    for (const name of ["tolerance", "size", "note"]) assert.ok(field.labels.includes(name), name);
  });
});

describe("a shoot in an editor that can't ask", () => {
  it("is told again when a move changes", async () => {
    const client = await startServer(TEXTS, PUSHED);
    const last = () => client.published.filter(({ uri }) => uri === client.uri(PATH)).at(-1);
    await client.open(PATH, SHOOT, 1);
    await client.open(BACK, OFF, 1);
    await client.until("the finding", () => codes(last()?.diagnostics ?? []).includes("match"));
    const [{ relatedInformation, range }] = last()?.diagnostics ?? [];
    assert.equal(textIn(SHOOT, range), '"moves/back.move.yaml#left"');
    const places = (relatedInformation ?? []).map(({ location }) => location.uri);
    assert.deepEqual(places, [client.uri(ALONG), client.uri(BACK)]);
    await client.change(BACK, MOVE, 2);
    await client.until("none", () => last()?.diagnostics.length === 0);
    assert.equal(await client.stop(), 0);
  });
});
