import assert from "node:assert/strict";
import { rmSync } from "node:fs";
import * as vscode from "vscode";
import type { StageState } from "../../../protocol/stage.ts";
import { activated, demoUri, placeOf, until } from "./extension.ts";
import { demoFolder, git } from "./repository.ts";

const NAME = "moves/over-the-lid.move.yaml";
const RIG = "kit/floor.rig.yaml";
const MOUNT = "camera-mount: { at: [0.06, 0, 0] }";
const HIGHER = "camera-mount: { at: [0.06, 0, 0.1] }";

async function report(what: string, wanted: (state: StageState) => boolean): Promise<StageState> {
  const api = await activated();
  return until(what, async () => {
    const state = await api.stageReport().catch(() => undefined);
    return state !== undefined && wanted(state) ? state : undefined;
  });
}

describe("comparing with a revision in the editor, read by its own Git extension", () => {
  before(async () => {
    await (
      await activated()
    ).ready;
    git("init", "--quiet");
    git("add", ".");
    git("commit", "--quiet", "--message", "Begin");
    await vscode.commands.executeCommand("git.openRepository", demoFolder());
  });
  after(async () => {
    await vscode.commands.executeCommand("movewright.stopComparing");
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    rmSync(vscode.Uri.joinPath(demoUri("."), ".git").fsPath, { recursive: true, force: true });
  });

  it("draws the move as it was, from the documents of that commit, while the text goes on", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(NAME), { viewColumn: vscode.ViewColumn.One });
    const edit = new vscode.WorkspaceEdit();
    const at = placeOf(document, "at: 13 s");
    edit.replace(document.uri, new vscode.Range(at, at.translate(0, "at: 13 s".length)), "at: 14 s");
    await vscode.workspace.applyEdit(edit);
    const [, repository] = await Promise.all([
      vscode.commands.executeCommand("movewright.openStage", document.uri),
      until("the repository", async () => {
        const extension = vscode.extensions.getExtension<{ getAPI(version: 1): { repositories: { state: { HEAD?: { commit?: string } } }[] } }>("vscode.git"); // prettier-ignore
        const found = (await extension?.activate())?.getAPI(1).repositories ?? [];
        return found.find(({ state }) => state.HEAD?.commit === git("rev-parse", "HEAD"));
      }),
    ]);
    await vscode.commands.executeCommand("movewright.compareWithRevision", document.uri, "HEAD");
    // What differs most is looked for in slices, after the ghost is there.
    const { ghost } = await report("the ghost", (state) => state.ghost?.words.includes("This move takes") === true);
    const short = repository.state.HEAD?.commit?.slice(0, 7);
    assert.equal(ghost?.label, `HEAD (${short})`);
    assert.match(ghost.words, new RegExp(`This move takes \\d+ s, HEAD \\(${short}\\) \\d+ s\\.`));
    await vscode.commands.executeCommand("undo");
    // The same text again: nothing differs, and the ghost has stayed.
    const same = await report("the text as it was", (state) => state.ghost?.words.includes("Pupil 0.0 mm") === true);
    assert.equal(same.ghost?.label, ghost.label);
  });

  it("reads the rig of that commit too, and a commit that is typed", async () => {
    await vscode.commands.executeCommand("movewright.compareWithRevision", demoUri(NAME), "HEAD~0");
    const named = (state: StageState): boolean => state.ghost?.label.startsWith("HEAD~0") === true;
    const { ghost } = await report("the ghost", named);
    assert.ok(ghost);
    assert.ok(ghost.words.includes("Pupil 0.0 mm"));
    const rig = await vscode.workspace.openTextDocument(demoUri(RIG));
    const edit = new vscode.WorkspaceEdit();
    const at = placeOf(rig, MOUNT);
    edit.replace(rig.uri, new vscode.Range(at, at.translate(0, MOUNT.length)), HIGHER);
    await vscode.workspace.applyEdit(edit);
    // The camera of now stands apart from that of the commit, whose rig has it where it was.
    const apart = await report("a rig of now", (state) => named(state) && !state.ghost?.words.includes("Pupil 0.0 mm"));
    // Where it is at its keys, that is: the cursor of the text beside it leads to another instant.
    assert.ok(ghost.keys.length > 0);
    assert.deepEqual(apart.ghost?.keys, ghost.keys);
    const back = new vscode.WorkspaceEdit();
    back.replace(rig.uri, new vscode.Range(at, at.translate(0, HIGHER.length)), MOUNT);
    await vscode.workspace.applyEdit(back);
    // What is no commit leaves what is compared with as it is.
    const said = await vscode.commands.executeCommand(
      "movewright.compareWithRevision",
      demoUri(NAME),
      "no-such-branch",
    );
    assert.equal(said, "There is no commit `no-such-branch` in the repository of this move.");
    assert.equal((await report("the stage", () => true)).ghost?.label, ghost.label);
  });
});
