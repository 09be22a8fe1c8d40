import assert from "node:assert/strict";
import * as vscode from "vscode";
import type { StageState } from "../../../protocol/stage.ts";
import { activated, demoUri, until } from "./extension.ts";

const MOVE = demoUri("moves/over-the-lid.move.yaml");
const OTHER = demoUri("moves/pot-to-cup.move.yaml");

/** Asks the stage until what it shows is as wanted. */
async function report(what: string, wanted: (state: StageState) => boolean): Promise<StageState> {
  const api = await activated();
  return until(what, async () => {
    const state = await api.stageReport().catch(() => undefined);
    return state !== undefined && wanted(state) ? state : undefined;
  });
}

describe("comparing with another move in the editor", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  it("opens the stage with the other move behind, follows that, and stops when it is told to", async () => {
    await vscode.commands.executeCommand("movewright.compareWithMove", MOVE, OTHER.toString());
    const { ghost, uri } = await report("the ghost", (state) => state.ghost !== undefined);
    assert.equal(uri, MOVE.toString());
    assert.equal(ghost?.label, "pot-to-cup");
    assert.match(ghost.words, /Pupil \d/);
    assert.ok(ghost.links.length > 0 && ghost.links.every(Number.isFinite));

    const document = await vscode.workspace.openTextDocument(OTHER);
    const at = document.positionAt(document.getText().indexOf("\nkeys:"));
    const edit = new vscode.WorkspaceEdit();
    edit.insert(OTHER, at, "\nspeed: 0.5");
    await vscode.workspace.applyEdit(edit);
    const words = ghost.words;
    await report("the other move at half its speed", (state) => state.ghost !== undefined && state.ghost.words !== words);

    await vscode.commands.executeCommand("movewright.stopComparing");
    await report("no ghost", (state) => state.ghost === undefined);
  }); // prettier-ignore

  it("says in one sentence why there is no revision to compare with, where there is no Git or no repository", async () => {
    const said = await vscode.commands.executeCommand<string>("movewright.compareWithRevision", MOVE, "HEAD");
    const hasGit = vscode.extensions.getExtension("vscode.git") !== undefined;
    if (hasGit)
      assert.match(said, /^over-the-lid\.move\.yaml is in no Git repository|^Git is turned off or not installed/);
    else assert.match(said, /^This editor has no Git of its own/);
    assert.equal(await vscode.commands.executeCommand("movewright.compareWithHead", MOVE), said);
    const base = await vscode.commands.executeCommand("movewright.chooseReviewBase", demoUri("."), "HEAD");
    assert.match(String(base), hasGit ? /Git/ : /^This editor has no Git of its own/);
    await vscode.commands.executeCommand("movewright.changedMoves.focus");
    const api = await activated();
    const { rows } = await until("the reason in the view", () => {
      const now = api.reviewReport();
      return now.problems.some((problem) => /Git/.test(problem)) ? now : undefined;
    });
    assert.deepEqual(rows, []);
  });

  it("is over when another move is shown", async () => {
    await vscode.commands.executeCommand("movewright.compareWithMove", MOVE, OTHER.toString());
    await report("the ghost", (state) => state.ghost !== undefined);
    await vscode.commands.executeCommand("movewright.openStage", OTHER);
    const { ghost } = await report("the other move itself", ({ uri }) => uri === OTHER.toString());
    assert.equal(ghost, undefined);
  });
});
