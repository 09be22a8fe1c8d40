import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, codesOf, demoUri, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";
const SET = "teapots.set.yaml";

/** What a person asks at a place of the demo's move, and what the answer has in it, in words. */
interface Asked {
  readonly what: string;
  readonly words: string;
  readonly shift?: number;
  readonly ask: (uri: vscode.Uri, position: vscode.Position) => Thenable<readonly string[]>;
  readonly holds: readonly RegExp[];
}

const run = <T>(command: string, ...args: readonly unknown[]): Thenable<T> =>
  vscode.commands.executeCommand<T>(command, ...args);
const file = ({ path }: vscode.Uri): string => path.slice(path.indexOf("/examples/") + "/examples/".length);

/** Places as FILE: LINE'S TEXT. */
async function placesIn(locations: readonly (vscode.Location | vscode.LocationLink)[]): Promise<string[]> {
  const placed = locations.map((each) =>
    "uri" in each ? { uri: each.uri, range: each.range } : { uri: each.targetUri, range: each.targetRange },
  );
  return Promise.all(
    placed.map(async ({ uri, range }) => {
      const document = await vscode.workspace.openTextDocument(uri);
      return `${file(uri)}: ${document.lineAt(range.start.line).text.trim()}`;
    }),
  );
}

async function completed(uri: vscode.Uri, position: vscode.Position): Promise<string[]> {
  const list = await run<vscode.CompletionList>("vscode.executeCompletionItemProvider", uri, position);
  return list.items.map(({ label, detail }) =>
    typeof label === "string"
      ? `${label} ${detail ?? ""}`
      : `${label.label} ${label.detail ?? ""} ${label.description ?? ""} ${detail ?? ""}`,
  );
}

function outlined(symbols: readonly vscode.DocumentSymbol[]): string[] {
  return symbols.flatMap(({ name, detail, children }) => [`${name} ${detail}`, ...outlined(children)]);
}

const ASKED: readonly Asked[] = [
  {
    what: "completion offers targets with how far they are",
    words: "aim: { at: lid",
    shift: "aim: { at: ".length,
    ask: completed,
    holds: [/^lid\b.*\d m/, /^spout\b/, /^cup\b/],
  },
  {
    what: "completion offers lenses with what they see",
    words: "lens: prime-35",
    shift: "lens: ".length,
    ask: completed,
    holds: [/^prime-35\b.*35 mm/],
  },
  {
    what: "a target leads to the set",
    words: "aim: { at: lid",
    shift: "aim: { at: l".length,
    ask: async (uri, at) => placesIn(await run("vscode.executeDefinitionProvider", uri, at)),
    holds: [/^teapots\.set\.yaml: lid: \{ at: \[0, 0, 0\.17\]/],
  },
  {
    what: "an axis leads to the rig",
    words: "swing: 4",
    shift: 1,
    ask: async (uri, at) => placesIn(await run("vscode.executeDefinitionProvider", uri, at)),
    holds: [/^kit\/floor\.rig\.yaml: - axis: swing/],
  },
  {
    what: "references of a target are found in documents that are not open",
    words: "focus: lid",
    shift: "focus: l".length,
    ask: async (uri, at) => placesIn(await run("vscode.executeReferenceProvider", uri, at)),
    holds: [/^teapots\.set\.yaml: lid:/, /^moves\/over-the-lid\.move\.yaml: focus: lid/, /^moves\/lid-then-cup/],
  },
  {
    what: "a name is marked wherever it stands",
    words: "swing: 4",
    shift: 1,
    ask: async (uri, at) => {
      const marked = await run<vscode.DocumentHighlight[]>("vscode.executeDocumentHighlights", uri, at);
      return marked.map(({ range }) => `line ${range.start.line}`);
    },
    holds: [/^line 15$/, /^line 21$/, /^line 25$/, /^line 29$/, /^line 34$/],
  },
  {
    what: "the outline has the keys with their times and peaks",
    words: "move: 1",
    ask: async (uri) => {
      // The editor keeps the outline of a version of a text; one that came before the motion was solved stays until an edit.
      const editor = await vscode.window.showTextDocument(uri);
      await editor.edit((edit) => edit.insert(new vscode.Position(0, 1), " "));
      await run("undo");
      return outlined(await run<vscode.DocumentSymbol[]>("vscode.executeDocumentSymbolProvider", uri));
    },
    holds: [/^shoulder 6 s, 00:00:06:00, \d+ % of \w+ \w+$/, /^front 13 s/, /^celadon/],
  },
  {
    what: "a move is found in the workspace by its title",
    words: "move: 1",
    ask: async () => {
      const found = await run<vscode.SymbolInformation[]>("vscode.executeWorkspaceSymbolProvider", "lid to the front");
      return found.map(({ name, location }) => `${name} in ${file(location.uri)}`);
    },
    holds: [/^move: Over the lid to the front in moves\/over-the-lid\.move\.yaml$/],
  },
  {
    what: "keys fold",
    words: "move: 1",
    ask: async (uri) => {
      const folds = await run<vscode.FoldingRange[]>("vscode.executeFoldingRangeProvider", uri);
      return folds.map(({ start, end }) => `${start} to ${end}`);
    },
    // Comment at the head, all keys, the key `shoulder`, passes; lines from 0.
    holds: [/^0 to 1$/, /^12 to 35$/, /^23 to 26$/, /^36 to 38$/],
  },
  {
    what: "a selection grows from a value to its key and to the document",
    words: "swing: 18",
    shift: "swing: 1".length,
    ask: async (uri, at) => {
      const [first] = await run<vscode.SelectionRange[]>("vscode.executeSelectionRangeProvider", uri, [at]);
      const document = await vscode.workspace.openTextDocument(uri);
      const grown: string[] = [];
      for (let each: vscode.SelectionRange | undefined = first; each; each = each.parent) {
        grown.push(document.getText(each.range));
      }
      return grown;
    },
    holds: [
      /^18$/,
      /^swing: 18$/,
      /^\{ dolly: 1\.5, swing: 18, lift: 26 \}$/,
      /^at: 6 s[^]*0\.46\] \}$/,
      /^# From[^]*95 % \}\s*$/,
    ],
  },
  {
    what: "words are told apart by what they mean",
    words: "move: 1",
    ask: async (uri) => {
      const legend = await run<vscode.SemanticTokensLegend>("vscode.provideDocumentSemanticTokensLegend", uri);
      const { data } = await run<vscode.SemanticTokens>("vscode.provideDocumentSemanticTokens", uri);
      const lines = (await vscode.workspace.openTextDocument(uri)).getText().split(/\r?\n/);
      const told: string[] = [];
      for (let i = 0, line = 0, character = 0; i < data.length; i += 5) {
        character = data[i] === 0 ? character + data[i + 1] : data[i + 1];
        line += data[i];
        told.push(`${lines[line].slice(character, character + data[i + 2])}: ${legend.tokenTypes[data[i + 3]]}`);
      }
      return told;
    },
    holds: [/^swing: variable$/, /^lid: class$/, /^shoulder: event$/, /^celadon: namespace$/, /^mm: unit$/],
  },
  {
    what: "hints behind times and aims tell what was solved",
    words: "move: 1",
    ask: async (uri) => {
      const whole = new vscode.Range(0, 0, 1000, 0);
      const hints = await run<vscode.InlayHint[]>("vscode.executeInlayHintProvider", uri, whole);
      return hints.map(({ position, label }) => {
        const text = typeof label === "string" ? label : label.map(({ value }) => value).join("");
        return `line ${position.line}: ${text}`;
      });
    },
    holds: [/^line 23: .*00:00:06:00/, /^line 16: .*pan -?\d.*tilt -?\d/],
  },
  {
    what: "the paths of rig, camera and set are links",
    words: "move: 1",
    ask: async (uri) => {
      const links = await run<vscode.DocumentLink[]>("vscode.executeLinkProvider", uri);
      return links.flatMap(({ target }) => (target ? [file(target)] : []));
    },
    holds: [/^kit\/floor\.rig\.yaml$/, /^kit\/a-cam\.camera\.yaml$/, /^teapots\.set\.yaml$/],
  },
];

describe("language features in the editor", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  for (const { what, words, shift = 0, ask, holds } of ASKED) {
    it(what, async () => {
      const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
      const position = placeOf(document, words).translate(0, shift);
      let last: readonly string[] = [];
      // What the motion has to tell comes once the move is solved.
      await until(what, async () => {
        // A server that is still starting answers nothing, which the editor takes for a failure.
        last = await Promise.resolve(ask(document.uri, position)).catch((error: unknown) => [String(error)]);
        return holds.every((each) => last.some((one) => each.test(one))) || undefined;
      }).catch((error: unknown) => assert.deepEqual(last, holds.map(String), String(error)));
    });
  }

  it("findings of documents that are not open are among the problems", async () => {
    // Written beside the editor, so that nothing has opened it before.
    const closed = demoUri("broken/nobody-opens-this.move.yaml");
    await vscode.workspace.fs.copy(demoUri("broken/too-fast.move.yaml"), closed);
    try {
      await until("a finding of the motion", () => codesOf(closed).includes("axis-speed") || undefined);
      assert.ok(vscode.workspace.textDocuments.every(({ uri }) => uri.toString() !== closed.toString()));
    } finally {
      await vscode.workspace.fs.delete(closed);
    }
    await until("no finding of a file that is gone", () => codesOf(closed).length === 0 || undefined);
    // A target of the set that is taken away is missed in a move that is not open.
    await run("workbench.action.closeAllEditors");
    const { document } = await vscode.window.showTextDocument(demoUri(SET));
    const at = placeOf(document, "stream:");
    const edit = new vscode.WorkspaceEdit();
    edit.replace(document.uri, new vscode.Range(at, at.translate(0, "stream".length)), "trickle");
    await vscode.workspace.applyEdit(edit);
    const missed = demoUri("moves/pot-to-cup.move.yaml");
    await until("the missing target", () => codesOf(missed).length > 0 || undefined);
    await run("undo");
    await until("no finding", () => codesOf(missed).length === 0 || undefined);
  });
});
