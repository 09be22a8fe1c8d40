import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, demoUri, until } from "./extension.ts";

/** Errors of a document once its motion was looked at. */
async function errorsOf(uri: vscode.Uri): Promise<string[]> {
  const api = await activated();
  await vscode.window.showTextDocument(uri);
  await until(`${uri.path} to be solved`, () => {
    const { uri: front, status } = api.statusReport();
    return front === uri.toString() && status?.state === "solved" ? true : undefined;
  });
  return vscode.languages
    .getDiagnostics(uri)
    .filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error)
    .map(({ message }) => message);
}

describe("new documents in the editor", () => {
  before(async () => (await activated()).ready);
  afterEach(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  for (const name of ["a new one", "a new one.json"]) {
    it(`is a move without errors, open with the cursor on what is to be filled in: ${name}`, async () => {
      const folder = demoUri("moves").toString();
      const uri = await vscode.commands.executeCommand<vscode.Uri>("movewright.newDocument", {
        kind: "move",
        folder,
        name,
      });
      try {
        const ending = name.endsWith("json") ? "json" : "yaml";
        assert.equal(uri.toString(), demoUri(`moves/a new one.move.${ending}`).toString());
        const editor = vscode.window.activeTextEditor;
        assert.equal(editor?.document.uri.toString(), uri.toString());
        const before = editor.document.getText().slice(0, editor.document.offsetAt(editor.selection.active));
        assert.match(before, /"?axes"?: $/);
        assert.deepEqual(await errorsOf(uri), []);
        // A name that is taken changes nothing.
        const text = editor.document.getText();
        const again = await vscode.commands.executeCommand("movewright.newDocument", { kind: "move", folder, name });
        assert.equal(again, undefined);
        assert.equal((await vscode.workspace.openTextDocument(uri)).getText(), text);
      } finally {
        await vscode.workspace.fs.delete(uri);
      }
    });
  }

  it("is taken back by one undo", async () => {
    const uri = await vscode.commands.executeCommand<vscode.Uri>("movewright.newDocument", {
      kind: "set",
      folder: demoUri("kit").toString(),
      name: "not for long",
    });
    await vscode.commands.executeCommand("undo");
    await until("no file any more", () =>
      vscode.workspace.fs.stat(uri).then(
        () => undefined,
        () => true,
      ),
    );
  });

  it("refuses a name that no file can have", async () => {
    const answer = await vscode.commands.executeCommand("movewright.newDocument", {
      kind: "rig",
      folder: demoUri("kit").toString(),
      name: "a/b",
    });
    assert.equal(answer, undefined);
  });

  it("opens a sample with something to mend", async () => {
    const parent = demoUri("here");
    await vscode.workspace.fs.createDirectory(parent);
    try {
      const uri = await vscode.commands.executeCommand<vscode.Uri>("movewright.openSample", parent);
      assert.ok(uri.path.endsWith("here/movewright-sample/moves/past-the-teapot.move.yaml"));
      // The status may be told before the findings are.
      const errors = await until("the finding", async () => {
        const found = await errorsOf(uri);
        return found.length > 0 ? found : undefined;
      });
      assert.equal(errors.length, 1);
      assert.match(errors[0], /slide moves at .* above its limit/);
    } finally {
      await vscode.workspace.fs.delete(parent, { recursive: true });
    }
  });
});

describe("commands of the editor", () => {
  it("are those that the package names", async () => {
    const extension = vscode.extensions.getExtension("movewright.movewright");
    assert.ok(extension);
    const { commands } = (extension.packageJSON as { contributes: { commands: { command: string }[] } }).contributes;
    const registered = (await vscode.commands.getCommands(true)).filter((name) => name.startsWith("movewright."));
    // The editor makes one of its own for each view or step that an extension contributes.
    for (const { command } of commands) assert.ok(registered.includes(command), `${command} is not there`);
  });

  it("check the workspace, and count what is found", async () => {
    const result = await vscode.commands.executeCommand<{ documents: number; of: number; errors: number }>(
      "movewright.checkWorkspace",
    );
    assert.ok(result.documents > 50 && result.documents === result.of);
    // Every broken document has its finding.
    assert.ok(result.errors > 30);
  });
});
