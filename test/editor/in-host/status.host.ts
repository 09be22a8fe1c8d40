import assert from "node:assert/strict";
import * as vscode from "vscode";
import { activated, demoUri, placeOf, until } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";

describe("the status bar item", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  it("tells the highest share of a limit of the move in front, and leads to it", async () => {
    const api = await activated();
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
    const shown = await until("a solved status", () => {
      const report = api.statusReport();
      return report.status?.state === "solved" ? report : undefined;
    });
    assert.equal(shown.uri, document.uri.toString());
    assert.match(shown.text, /^\$\(pulse\) \w+ (speed|acceleration|jerk) \d+ %$/);
    assert.match(shown.spoken, /^Movewright: \w+ \w+ \d+ percent\. .*manual/);
    await vscode.commands.executeCommand("movewright.revealWorst");
    const selected = vscode.window.activeTextEditor?.selection;
    assert.ok(selected && shown.status?.place);
    assert.equal(selected.start.line, shown.status.place.range.start.line);
  });

  it("follows an edit that goes over a limit, in words, and back", async () => {
    const api = await activated();
    const editor = await vscode.window.showTextDocument(demoUri(MOVE));
    const text = editor.document.getText();
    const at = placeOf(editor.document, "at: 13 s");
    await editor.edit((edit) => edit.replace(new vscode.Range(at, at.translate(0, "at: 13 s".length)), "at: 10.4 s"));
    const over = await until("a limit that is passed", () => {
      const report = api.statusReport();
      return report.status?.over === true && report.status.state === "solved" ? report : undefined;
    });
    assert.match(over.text, /^\$\(error\) .* %, over the limit, \d+ errors?$/);
    await vscode.commands.executeCommand("undo");
    await until("a status without errors", () => (api.statusReport().status?.errors === 0 ? true : undefined));
    assert.equal(editor.document.getText(), text);
  });

  it("is hidden for what is no move", async () => {
    const api = await activated();
    await vscode.window.showTextDocument(demoUri("kit/floor.rig.yaml"));
    await until("no move in front", () => (api.statusReport().uri === undefined ? true : undefined));
  });
});
