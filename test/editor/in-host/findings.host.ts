import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, codeOf, codesOf, demoUri, hoverText, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";

describe("findings in the editor", () => {
  before(async () => (await activated()).ready);
  afterEach(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  it("are none in the moves of the demo that pass", async () => {
    const folder = await vscode.workspace.fs.readDirectory(demoUri("moves"));
    const moves = folder.map(([name]) => name).filter((name) => name.endsWith(".move.yaml"));
    assert.ok(moves.length >= 5);
    for (const name of moves) {
      const uri = demoUri(`moves/${name}`);
      const { document } = await vscode.window.showTextDocument(uri);
      // A key's hover has its table once the move is solved, and findings of the motion come no later.
      await until(
        `${name} to be solved`,
        async () => (await hoverText(uri, placeOf(document, "name:"))).includes("%") || undefined,
      );
      const problems = vscode.languages
        .getDiagnostics(uri)
        .filter(({ severity }) => severity < vscode.DiagnosticSeverity.Information);
      assert.deepEqual(problems, [], name);
    }
  });

  it("come and go as a key is moved in time", async () => {
    const uri = demoUri(MOVE);
    const editor = await vscode.window.showTextDocument(uri);
    const text = editor.document.getText();
    const at = text.indexOf("- at: 13 s");
    assert.notEqual(at, -1);
    const place = new vscode.Range(
      editor.document.positionAt(at),
      editor.document.positionAt(at + "- at: 13 s".length),
    );
    await editor.edit((edit) => edit.replace(place, "- at: 9.6 s"));
    const codes = await until("axis-speed", () => {
      const found = codesOf(uri);
      return found.includes("axis-speed") ? found : undefined;
    });
    assert.ok(
      codes.every((code) => /^[a-z]+(-[a-z]+)*$/.test(code)),
      codes.join(", "),
    );
    const speed = vscode.languages.getDiagnostics(uri).find((one) => codeOf(one) === "axis-speed");
    assert.ok(speed && speed.source === "movewright");
    assert.ok(speed.relatedInformation?.some(({ location }) => location.uri.path.endsWith("floor.rig.yaml")));
    await vscode.commands.executeCommand("undo");
    await until("no findings", () => (codesOf(uri).length === 0 ? true : undefined));
    assert.equal(editor.document.getText(), text);
  });
});
