import * as vscode from "vscode";
import {
  ADD_KEY_COMMAND,
  EDIT_REQUEST,
  OPEN_STAGE_COMMAND,
  SHIFT_KEYS_COMMAND,
  type EditParams,
  type EditResult,
  type TextPosition,
} from "../protocol/requests.ts";
import type { Ask } from "./server-link.ts";
import type { Stage } from "./stage.ts";

/** Commands that edit a move by a value that the user gives: an amount of time, or the time that the stage shows. */
export function registerEditCommands(stage: Stage, ask: Ask): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.commands.registerCommand(SHIFT_KEYS_COMMAND, (uri?: string, position?: TextPosition) =>
      shiftKeys(ask, uri, position),
    ),
    vscode.commands.registerCommand(ADD_KEY_COMMAND, () => addKey(stage, ask)),
  );
}

/** By how much is asked for; each answer is looked at by the server before it is taken. */
async function shiftKeys(ask: Ask, uri: string | undefined, position: TextPosition | undefined): Promise<void> {
  const place = uri !== undefined && position ? { uri, position } : cursorPlace();
  if (!place) return;
  const paramsFor = (by: string): EditParams => ({
    uri: place.uri,
    edit: { kind: "shift-keys", position: place.position, by },
  });
  const by = await vscode.window.showInputBox({
    title: "Shift this key and all later ones",
    prompt: "By how much: a time, or frames; earlier with a minus.",
    placeHolder: "1.5 s, -12 f, 00:00:01:00",
    validateInput: async (written) => {
      if (written.trim() === "") return undefined;
      const answer = await ask<EditResult>(EDIT_REQUEST, { ...paramsFor(written), tries: true });
      return "refusal" in answer ? answer.refusal : undefined;
    },
  });
  if (by === undefined || by.trim() === "") return;
  await make(place.uri, await ask<EditResult>(EDIT_REQUEST, paramsFor(by)));
}

async function addKey(stage: Stage, ask: Ask): Promise<void> {
  const shown = await stage.report().catch(() => undefined);
  const front = vscode.window.activeTextEditor?.document.uri.toString();
  // With the stage itself in front its move is meant; beside another text it would be a surprise.
  if (shown?.uri === undefined || (front !== undefined && front !== shown.uri)) {
    const open = "Open Stage";
    const said = "A key is added at the time that the stage shows: open the stage of this move first.";
    if ((await vscode.window.showInformationMessage(said, open)) === open) {
      await vscode.commands.executeCommand(OPEN_STAGE_COMMAND, front);
    }
    return;
  }
  const params: EditParams = { uri: shown.uri, edit: { kind: "add-key", time: shown.time } };
  await make(shown.uri, await ask<EditResult>(EDIT_REQUEST, params));
}

function cursorPlace(): { readonly uri: string; readonly position: TextPosition } | undefined {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return undefined;
  const { line, character } = editor.selection.active;
  return { uri: editor.document.uri.toString(), position: { line, character } };
}

/** Makes an edit as one step that can be undone, and says what there is to say of it. */
async function make(uri: string, answer: EditResult): Promise<void> {
  if ("refusal" in answer) {
    void vscode.window.showWarningMessage(answer.refusal);
    return;
  }
  const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  if (answer.version !== undefined && answer.version !== document.version) {
    void vscode.window.showWarningMessage("The text has changed meanwhile: ask again.");
    return;
  }
  const edit = new vscode.WorkspaceEdit();
  for (const { range, newText } of answer.edits) {
    const { start, end } = range;
    edit.replace(document.uri, new vscode.Range(start.line, start.character, end.line, end.character), newText);
  }
  await vscode.workspace.applyEdit(edit);
  if (answer.note !== undefined) void vscode.window.showInformationMessage(answer.note);
}
