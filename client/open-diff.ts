import * as vscode from "vscode";
import { gitApi, repositoryOf } from "./repository-of.ts";
import { readRevision } from "./revision-files.ts";

/** A file at a commit and where it is now; `now` is absent for one that is gone. */
export interface OldAndNew {
  readonly was: vscode.Uri;
  readonly now: vscode.Uri | undefined;
  readonly revision: string;
  /** What people know the commit by. */
  readonly label: string;
}

/**
 * Opens the editor's own comparison of a file at a commit with the file as it is now, on the side where texts are; one that
 * is gone is shown alone, and one that was not there yet is opened as it is.
 */
export async function openDiff({ was, now, revision, label }: OldAndNew): Promise<void> {
  const options = { viewColumn: vscode.ViewColumn.One, preview: true };
  const name = nameOf(now ?? was);
  const old = await oldUri(was, revision);
  if (old && now) await vscode.commands.executeCommand("vscode.diff", old, now, `${name} (${label} ↔ now)`, options);
  else if (old) await vscode.commands.executeCommand("vscode.open", old, options, `${name} (${label})`);
  else if (now) await vscode.window.showTextDocument(now, options);
}

/** Address of the file at the commit, which the editor's Git extension reads; `undefined` where it was not there. */
async function oldUri(was: vscode.Uri, revision: string): Promise<vscode.Uri | undefined> {
  const [git, repository] = [await gitApi(), await repositoryOf(was)];
  if ("problem" in git || "problem" in repository) return undefined;
  const { state } = await readRevision(repository, revision, was.fsPath, "facts");
  return state === "missing" ? undefined : git.toGitUri(was, revision);
}

const nameOf = ({ path }: vscode.Uri): string => path.slice(path.lastIndexOf("/") + 1);
