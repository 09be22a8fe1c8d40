import * as vscode from "vscode";
import {
  SHAPE_REQUEST,
  type ShapeAnswer,
  type ShapeEdits,
  type ShapeParams,
  type ShapeResult,
  type ShapeWish,
} from "../protocol/stage-shape.ts";
import type { Ask } from "./server-link.ts";

const SILENT = "The language server did not answer.";
const CHANGED = "The text has changed meanwhile: try again.";
const NOT_MADE = "The editor did not take the edit.";

/** Carries a wish of the stage to the server, makes its edit as one step that can be undone, and says what became of it. */
export async function shapeMove(
  ask: Ask,
  uri: string,
  { turn, version, phase, intent }: ShapeWish,
  tell: (answer: ShapeAnswer) => void,
): Promise<void> {
  const params: ShapeParams = { uri, turn, version, phase, intent };
  const result = await ask<ShapeResult>(SHAPE_REQUEST, params).catch((): ShapeResult => ({ refusal: SILENT }));
  const own = { uri, turn, version };
  if ("superseded" in result) return;
  if ("refusal" in result) tell({ ...own, refusal: result.refusal });
  else if ("preview" in result) tell({ ...own, preview: result.preview });
  else {
    const refusal = await make(result.write);
    const { made, stop, write } = result;
    const unchanged = write.edits.length === 0;
    tell(refusal === undefined ? { ...own, made, unchanged, ...(stop ? { stop } : {}) } : { ...own, refusal });
  }
}

/** Why the edit is not made; `undefined` when it is, or there is none. */
async function make({ uri, version, edits }: ShapeEdits): Promise<string | undefined> {
  if (edits.length === 0) return undefined;
  const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  if (version !== undefined && version !== document.version) return CHANGED;
  const edit = new vscode.WorkspaceEdit();
  for (const { range, newText } of edits) {
    const { start, end } = range;
    edit.replace(document.uri, new vscode.Range(start.line, start.character, end.line, end.character), newText);
  }
  return (await vscode.workspace.applyEdit(edit)) ? undefined : NOT_MADE;
}
