import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, codeOf, codesOf, demoUri, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";
const ENOUGH = 50;

const run = <T>(command: string, ...args: readonly unknown[]): Thenable<T> =>
  vscode.commands.executeCommand<T>(command, ...args);

/** Writes other words in the place of the first that are like these, as typing would. */
async function rewrite(editor: vscode.TextEditor, words: string, others: string): Promise<void> {
  const at = placeOf(editor.document, words);
  const range = new vscode.Range(at, at.translate(0, words.length));
  assert.ok(await editor.edit((edit) => edit.replace(range, others)));
}

const actionsAt = (uri: vscode.Uri, range: vscode.Range, kind: string): Thenable<vscode.CodeAction[]> =>
  run("vscode.executeCodeActionProvider", uri, range, kind, ENOUGH);

async function textsOf(edit: vscode.WorkspaceEdit): Promise<Map<string, string>> {
  const texts = new Map<string, string>();
  for (const [uri] of edit.entries()) {
    texts.set(uri.toString(), (await vscode.workspace.openTextDocument(uri)).getText());
  }
  return texts;
}

/** Takes all changes back that were not saved, whatever the undo of them would ask. */
async function revertAll(): Promise<void> {
  for (const document of vscode.workspace.textDocuments.filter(({ isDirty }) => isDirty)) {
    await vscode.window.showTextDocument(document);
    await run("workbench.action.files.revert");
  }
  await run("workbench.action.closeAllEditors");
}

describe("edits in the editor", () => {
  before(async () => (await activated()).ready);
  afterEach(revertAll);

  it("renaming an axis changes its rig and every move that uses it, and nothing else", async () => {
    const rig = demoUri("kit/floor.rig.yaml");
    const { document } = await vscode.window.showTextDocument(rig);
    const at = placeOf(document, "axis: swing").translate(0, "axis: s".length);
    const edit = await until("a renaming over files", async () => {
      const found = await run<vscode.WorkspaceEdit>("vscode.executeDocumentRenameProvider", rig, at, "sweep");
      return found.size > 3 ? found : undefined;
    });
    const before = await textsOf(edit);
    assert.ok(before.has(demoUri(MOVE).toString()) && before.has(rig.toString()));
    assert.ok(await vscode.workspace.applyEdit(edit));
    for (const [uri, text] of await textsOf(edit)) {
      const named = /\bsweep\b/g;
      assert.ok(named.test(text), uri);
      assert.equal(text.replace(named, "swing"), before.get(uri), uri);
    }
    // All of it is one name again: nothing is found that was not there.
    await until("no finding", () => codesOf(demoUri(MOVE)).length === 0 || undefined);
  });

  it("a cure says what it comes to, ends the finding, and is taken back by one undo", async () => {
    const editor = await vscode.window.showTextDocument(demoUri(MOVE));
    const { document } = editor;
    const whole = document.getText();
    await rewrite(editor, "- at: 13 s", "- at: 11.4 s");
    const faulty = document.getText();
    const finding = await until("a limit that is broken", () =>
      vscode.languages.getDiagnostics(document.uri).find((each) => /^axis-/.test(codeOf(each))),
    );
    const fixes = await until("alternatives", async () => {
      const found = await actionsAt(document.uri, finding.range, "quickfix");
      return found.filter(({ edit }) => edit).length > 1 ? found : undefined;
    });
    // The first that is preferred is what "Auto Fix" takes; another finding of this place may have its own.
    const preferred = fixes.find(({ isPreferred }) => isPreferred);
    assert.match(preferred?.title ?? "", /\d/);
    assert.ok(preferred?.edit && (await vscode.workspace.applyEdit(preferred.edit)));
    await until("the finding to end", () => {
      const same = (each: vscode.Diagnostic) =>
        codeOf(each) === codeOf(finding) && each.range.start.isEqual(finding.range.start);
      return document.getText() !== faulty && !vscode.languages.getDiagnostics(document.uri).some(same)
        ? true
        : undefined;
    });
    await run("undo");
    assert.equal(document.getText(), faulty);
    await run("undo");
    assert.equal(document.getText(), whole);
  });

  it("a key is written anew, as a camera key and back, with every other byte as it was", async () => {
    const editor = await vscode.window.showTextDocument(demoUri(MOVE));
    const text = editor.document.getText();
    const at = placeOf(editor.document, "name: shoulder");
    const actions = await until("rewrites", async () => {
      const found = await actionsAt(editor.document.uri, new vscode.Range(at, at), "refactor.rewrite");
      return found.some(({ title }) => /camera key/.test(title)) ? found : undefined;
    });
    const toCamera = actions.find(({ title }) => /camera key/.test(title));
    assert.ok(toCamera?.edit && (await vscode.workspace.applyEdit(toCamera.edit)));
    const written = editor.document.getText();
    const [from, to] = [text.indexOf("- at: 6 s"), text.indexOf("- at: 9 s")];
    assert.equal(written.slice(0, from), text.slice(0, from));
    assert.ok(written.endsWith(text.slice(to)));
    assert.match(written.slice(from, written.indexOf("- at: 9 s")), /camera: \{ at: \[/);
    await run("undo");
    assert.equal(editor.document.getText(), text);
  });

  it("formatting lays a line out again and leaves the rest", async () => {
    const editor = await vscode.window.showTextDocument(demoUri(MOVE));
    const text = editor.document.getText();
    await rewrite(editor, "{ dolly: 1.5, swing: 18, lift: 26 }", "{dolly:   1.5,swing: 18 ,  lift: 26}");
    const edits = await run<vscode.TextEdit[]>("vscode.executeFormatDocumentProvider", editor.document.uri, {
      tabSize: 2,
      insertSpaces: true,
    });
    const edit = new vscode.WorkspaceEdit();
    edit.set(editor.document.uri, edits);
    await vscode.workspace.applyEdit(edit);
    assert.equal(editor.document.getText(), text);
  });

  it("a document becomes JSON, and what names it follows", async () => {
    // Without comments, which JSON cannot hold: a person would be asked about them.
    const camera = demoUri("kit/plain.camera.yaml");
    const move = demoUri("moves/plain.move.yaml");
    const bytes = async (uri: vscode.Uri) => new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
    const write = (uri: vscode.Uri, text: string) => vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
    const json = demoUri("kit/plain.camera.json");
    try {
      await write(camera, (await bytes(demoUri("kit/a-cam.camera.yaml"))).replace(/ *#.*$/gm, ""));
      await write(move, (await bytes(demoUri(MOVE))).replace("a-cam.camera", "plain.camera"));
      const { document } = await vscode.window.showTextDocument(camera);
      const start = new vscode.Range(0, 0, 0, 0);
      const action = await until("the conversion, with the move that names it", async () => {
        const actions = await actionsAt(document.uri, start, "refactor.rewrite.convert");
        const found = actions.find(({ title }) => title.startsWith("Convert to JSON"));
        return found?.edit?.has(move) ? found : undefined;
      });
      assert.ok(action.edit && (await vscode.workspace.applyEdit(action.edit)));
      const made = await vscode.workspace.openTextDocument(json);
      const data = JSON.parse(made.getText()) as { camera: number; lenses: Record<string, unknown> };
      assert.equal(data.camera, 1);
      assert.ok("prime-35" in data.lenses);
      const follower = await vscode.workspace.openTextDocument(move);
      assert.match(follower.getText(), /use: \.\.\/kit\/plain\.camera\.json/);
      await until("no finding", () => codesOf(move).length === 0 || undefined);
    } finally {
      await revertAll();
      for (const uri of [camera, json, move]) await vscode.workspace.fs.delete(uri).then(undefined, () => undefined);
    }
  });
});
