import * as vscode from "vscode";
import {
  KEY_AT_REQUEST,
  PLAY_FROM_COMMAND,
  SHOW_PLACES_COMMAND,
  type KeyAtParams,
  type KeyAtResult,
  type TextPlace,
  type TextPosition,
} from "../protocol/requests.ts";
import { revealPlace } from "./reveal-place.ts";
import type { Ask } from "./server-link.ts";
import type { Stage } from "./stage.ts";

/** What clicks on code lenses do, beside opening the stage. */
export function registerLensCommands(stage: Stage, ask: Ask): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.commands.registerCommand(PLAY_FROM_COMMAND, async (uri?: string, time?: number) => {
      if (uri !== undefined && time !== undefined) stage.playFrom(uri, time);
      else await playFromCursor(stage, ask);
    }),
    vscode.commands.registerCommand(SHOW_PLACES_COMMAND, showPlaces),
  );
}

/** From the palette: plays from the key that the cursor stands in, or from the beginning. */
async function playFromCursor(stage: Stage, ask: Ask): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return;
  const { line, character } = editor.selection.active;
  const uri = editor.document.uri.toString();
  const params: KeyAtParams = { uri, position: { line, character } };
  const at = await ask<KeyAtResult>(KEY_AT_REQUEST, params);
  stage.playFrom(uri, at?.time ?? 0);
}

/** Goes to the only place, else shows all of them beside the one that was clicked. */
async function showPlaces(uri: string, at: TextPosition, places: readonly TextPlace[]): Promise<void> {
  if (places.length === 1) return revealPlace(places[0]);
  const locations = places.map(
    (place) =>
      new vscode.Location(
        vscode.Uri.parse(place.uri),
        new vscode.Range(
          place.range.start.line,
          place.range.start.character,
          place.range.end.line,
          place.range.end.character,
        ),
      ),
  );
  const position = new vscode.Position(at.line, at.character);
  await vscode.commands.executeCommand("editor.action.showReferences", vscode.Uri.parse(uri), position, locations);
}
