import assert from "node:assert/strict";
import { rmSync, writeFileSync, readFileSync } from "node:fs";
import * as vscode from "vscode";
import type { ReviewReport } from "../../../client/api.ts";
import { activated, demoUri, placeOf, until } from "./extension.ts";
import { demoFolder, git } from "./repository.ts";

const NAME = "moves/over-the-lid.move.yaml";
const OTHER = "moves/pot-to-cup.move.yaml";
const TITLE = "Over the lid to the front";

async function report(what: string, wanted: (report: ReviewReport) => boolean): Promise<ReviewReport> {
  const api = await activated();
  let last: ReviewReport | undefined;
  return until(what, () => {
    last = api.reviewReport();
    return wanted(last) && last.message === undefined ? last : undefined;
  }).catch((error: unknown) => {
    throw new Error(`${String(error)} ${JSON.stringify(last, undefined, 1)}`);
  });
}

const rowOf = ({ rows }: ReviewReport, title = TITLE) => rows.find(({ label }) => label === title);

async function replace(file: string, words: string, others: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(demoUri(file));
  const edit = new vscode.WorkspaceEdit();
  const at = placeOf(document, words);
  edit.replace(document.uri, new vscode.Range(at, at.translate(0, words.length)), others);
  await vscode.workspace.applyEdit(edit);
  return document;
}

/** Inputs of the tabs that compare two texts. */
const comparisons = (): vscode.TabInputTextDiff[] =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs.map(({ input }) => input))
    .filter((input) => input instanceof vscode.TabInputTextDiff);

async function hovers(uri: vscode.Uri, position: vscode.Position): Promise<string> {
  const found = await vscode.commands.executeCommand<vscode.Hover[]>("vscode.executeHoverProvider", uri, position);
  return found.flatMap(({ contents }) => contents.map((each) => (each as vscode.MarkdownString).value)).join("\n");
}

describe("moves that are changed since a base, in the editor", () => {
  let first = "";
  before(async () => {
    await (
      await activated()
    ).ready;
    git("init", "--quiet", "--initial-branch", "main");
    git("add", ".");
    git("commit", "--quiet", "--message", "Begin");
    first = git("rev-parse", "HEAD");
    git("checkout", "--quiet", "-b", "lower");
    const file = demoUri(OTHER).fsPath;
    writeFileSync(file, readFileSync(file, "utf8").replace(/^keys:/m, "speed: 0.5\nkeys:"));
    git("commit", "--quiet", "--all", "--message", "Go slower to the cup");
    await vscode.commands.executeCommand("git.openRepository", demoFolder());
  });
  after(async () => {
    await vscode.commands.executeCommand("movewright.chooseReviewBase", vscode.workspace.workspaceFolders?.[0].uri, "");
    await vscode.commands.executeCommand("movewright.stopComparing");
    // The other tests find the demo as it was.
    await vscode.workspace.saveAll();
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    git("checkout", "--quiet", "--force", "main");
    rmSync(vscode.Uri.joinPath(demoUri("."), ".git").fsPath, { recursive: true, force: true });
  });

  it("are listed when the view is shown, against the branch that the work left, and follow what is typed", async () => {
    await vscode.commands.executeCommand("movewright.changedMoves.focus");
    const listed = await report("the moves of the branch", ({ rows }) => rows.length > 0);
    assert.equal(listed.description, `against main (${first.slice(0, 7)}), by default`);
    assert.deepEqual(listed.rows.map(({ label }) => label), ["Pot to cup"]);
    assert.match(listed.rows[0].description, /→|up to/);
    await vscode.window.showTextDocument(demoUri(NAME), { viewColumn: vscode.ViewColumn.One });
    await replace(NAME, "at: 13 s", "at: 11.4 s");
    const typed = await report("the move that is typed in", (now) => rowOf(now) !== undefined);
    assert.equal(typed.rows[0].label, TITLE, "a new error comes first");
    assert.match(typed.rows[0].description, /\d+ % → (\w+ )?\d+ %/);
    assert.equal(typed.rows[0].icon.name, "error");
    assert.match(typed.rows[0].tooltip, /new error: /);
  }); // prettier-ignore

  it("have the findings marked that are new since a base that a person chose", async () => {
    const uri = demoUri(NAME);
    const messages = (): string[] => vscode.languages.getDiagnostics(uri).map(({ message }) => message);
    assert.ok(messages().every((message) => !message.includes("new since")), "nobody chose the base");
    const [home] = vscode.workspace.workspaceFolders ?? [];
    assert.equal(
      await vscode.commands.executeCommand("movewright.chooseReviewBase", home.uri, "no-such-branch"),
      "There is no commit `no-such-branch` in the repository of this move.",
    );
    await vscode.commands.executeCommand("movewright.chooseReviewBase", home.uri, "HEAD");
    await until("the marks", () => messages().find((message) => message.endsWith(" (new since HEAD)")));
    const { description, rows } = await report("the last commit", (now) => now.description?.startsWith("against HEAD") === true);
    assert.match(description ?? "", /^against HEAD \([0-9a-f]{7}\)$/);
    assert.deepEqual(rows.map(({ label }) => label), [TITLE]);
  }); // prettier-ignore

  it("are compared text by text beside the stage, where a hover has the values of both", async () => {
    const uri = demoUri(NAME);
    await vscode.commands.executeCommand("movewright.compareWithHead", uri);
    const [{ original, modified }] = comparisons();
    assert.equal(modified.toString(), uri.toString());
    assert.equal(original.scheme, "git");
    const old = await vscode.workspace.openTextDocument(original);
    assert.ok(old.getText().includes("at: 13 s"));
    const { ghost } = await until("the ghost", async () => {
      const state = await (await activated()).stageReport().catch(() => undefined);
      return state?.ghost?.words.includes("This move takes") ? state : undefined;
    });
    assert.match(ghost?.label ?? "", /^HEAD \([0-9a-f]{7}\)$/);
    const before = await hovers(original, placeOf(old, "at: 13 s"));
    assert.match(before, /\| time \|.*13 s.*\|.*11\.4 s/);
    const now = await vscode.workspace.openTextDocument(uri);
    const after = await hovers(uri, placeOf(now, "at: 11.4 s"));
    assert.match(after, /\| time \|.*13 s.*\|.*11\.4 s/);
    // The older text is no document of the workspace: what it names is not looked for beside it.
    assert.deepEqual(vscode.languages.getDiagnostics(original), []);
  });

  it("have the values of both in the comparison that the editor's Git opens too", async () => {
    const uri = demoUri(NAME);
    await (await vscode.workspace.openTextDocument(uri)).save();
    await until("Git to see it", () => (git("status", "--porcelain").includes(NAME) ? true : undefined));
    const { original } = await until("Git's own comparison", async () => {
      await vscode.commands.executeCommand("git.openChange", uri);
      return comparisons().find(({ original: { query } }) => query.includes('"~"'));
    });
    const old = await vscode.workspace.openTextDocument(original);
    assert.match(await hovers(original, placeOf(old, "at: 13 s")), /\| time \|.*13 s.*\|.*11\.4 s/);
  });
});
