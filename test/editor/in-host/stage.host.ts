import assert from "node:assert/strict";
import * as vscode from "vscode";
import type { StageState } from "../../../protocol/stage.ts";
import { activated, demoUri, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";

describe("the stage in the editor", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  it("opens beside the text, draws the move and follows the cursor", async () => {
    const editor = await vscode.window.showTextDocument(demoUri(MOVE));
    await vscode.commands.executeCommand("movewright.openStage", editor.document.uri);
    const shown = await report("a picture", ({ uri, pictures }) => uri !== undefined && pictures > 0);
    assert.equal(shown.uri, editor.document.uri.toString());
    assert.equal(shown.webgl, true);
    assert.equal(shown.keys, 5);
    assert.equal(shown.message, "");
    assert.ok(shown.links.length > 0 && shown.links.every(Number.isFinite));

    const key = placeOf(editor.document, "name: side");
    editor.selection = new vscode.Selection(key, key);
    const moved = await report("the playhead at 9 s", ({ time }) => Math.abs(time - 9) < 1e-6);
    assert.equal(moved.timecode, "00:00:09:00");
    assert.notDeepEqual(moved.links, shown.links);
  });

  it("takes up an edit without being opened again", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE), { viewColumn: vscode.ViewColumn.One });
    const before = await report("the stage", ({ uri }) => uri !== undefined);
    const edit = new vscode.WorkspaceEdit();
    const at = placeOf(document, "at: 13 s");
    edit.replace(document.uri, new vscode.Range(at, at.translate(0, "at: 13 s".length)), "at: 14 s");
    await vscode.workspace.applyEdit(edit);
    const after = await report("a newer version", ({ version }) => version > before.version);
    assert.equal(after.keys, before.keys);
    await vscode.commands.executeCommand("undo");
  });
});

/** Asks the stage until what it shows is as wanted. */
async function report(what: string, wanted: (state: StageState) => boolean): Promise<StageState> {
  const api = await activated();
  return until(what, async () => {
    // A page that is still being loaded does not answer; the time limit of `until` holds for that too.
    const state = await api.stageReport().catch(() => undefined);
    return state !== undefined && wanted(state) ? state : undefined;
  });
}
