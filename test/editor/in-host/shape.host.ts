import assert from "node:assert/strict";
import * as vscode from "vscode";
import { shapeMove } from "../../../client/stage-shape.ts";
import type { ShapeAnswer, ShapeResult, ShapeWish } from "../../../protocol/stage-shape.ts";
import { activated, demoUri, placeOf } from "./extension.ts";

const MOVE = "moves/over-the-lid.move.yaml";
const WISH: ShapeWish = { turn: 1, version: 1, phase: "commit", intent: { kind: "time", key: 4, time: 14 } };

describe("a move shaped by hand, in the editor", () => {
  before(async () => (await activated()).ready);
  after(() => vscode.commands.executeCommand("workbench.action.closeAllEditors"));

  /** What the stage is told when the server answers so. */
  const told = async (uri: string, result: ShapeResult): Promise<ShapeAnswer[]> => {
    const answers: ShapeAnswer[] = [];
    const ask = <R>(): Promise<R> => Promise.resolve(result as R);
    await shapeMove(ask, uri, WISH, (answer) => void answers.push(answer));
    return answers;
  };

  it("is one edit, which one undo takes back", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
    const before = document.getText();
    const uri = document.uri.toString();
    // Two places of the text at once, as when a key counts from the one that is dragged.
    const edits = ["at: 13 s", "title: "].map((word, i) => {
      const start = placeOf(document, word);
      return { range: { start, end: start.translate(0, word.length) }, newText: ["at: 14 s", "title:  "][i] };
    });
    const made = "`end` comes at 14 s.";
    const answers = await told(uri, { write: { uri, version: document.version, edits }, made });
    assert.deepEqual(answers, [{ uri, turn: 1, version: 1, made, unchanged: false }]);
    assert.equal(document.getText(), before.replace("at: 13 s", "at: 14 s").replace("title: ", "title:  "));
    await vscode.commands.executeCommand("undo");
    assert.equal(document.getText(), before);
  });

  it("is not made of a text that is another one by then, and what the server refuses is told", async () => {
    const { document } = await vscode.window.showTextDocument(demoUri(MOVE));
    const before = document.getText();
    const uri = document.uri.toString();
    const start = placeOf(document, "at: 13 s");
    const edits = [{ range: { start, end: start }, newText: "# " }];
    const [late] = await told(uri, { write: { uri, version: document.version - 1, edits }, made: "It is made." });
    assert.ok("refusal" in late && /changed meanwhile/.test(late.refusal));
    assert.equal(document.getText(), before);
    const [refused] = await told(uri, { refusal: "A move begins with its first key." });
    assert.deepEqual(refused, { uri, turn: 1, version: 1, refusal: "A move begins with its first key." });
    assert.deepEqual(await told(uri, { superseded: true }), []);
  });
});
