import * as vscode from "vscode";
import { openDiff } from "../open-diff.ts";
import type { Stage } from "../stage.ts";
import type { ReviewNode } from "./changed-moves.ts";

/** Shows a changed move: its texts beside each other, and the stage with the move as it was behind. */
export async function showChange(stage: Stage, node: ReviewNode): Promise<void> {
  if (node.kind !== "move" || "problem" in node.review.found) return;
  const { move } = node;
  const { revision, label } = node.review.found.base;
  const now = vscode.Uri.parse(move.uri);
  const was = move.was === undefined ? now : vscode.Uri.parse(move.was);
  await openDiff({ was, now: move.state === "removed" ? undefined : now, revision, label });
  if (move.state === "removed") return;
  stage.open(move.uri);
  if (move.state === "added") return stage.ghosts.stop();
  const problem = await stage.ghosts.compare(move.uri, { kind: "revision", revision, label, was: was.toString() });
  if (problem !== undefined) void vscode.window.showWarningMessage(problem);
}
