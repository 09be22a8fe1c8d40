import * as vscode from "vscode";
import { MOVE_FILES_REQUEST, type MoveFilesParams, type MoveFilesResult } from "../protocol/stage-ghost.ts";
import { documentTitle } from "./document-title.ts";
import type { GitRepository } from "./git-repository.ts";
import { repositoryOf, type NoRepository } from "./repository-of.ts";
import { namedRevision, offeredRevisions, type Revision } from "./revision-files.ts";
import type { Ask } from "./server-link.ts";

/** Most files of a move whose commits are looked for. */
const LOOKED_AT = 24;

/**
 * The revision that a person chooses: the last commit, one that changed the move or a document it uses, or one that is
 * typed. `undefined` when nothing was chosen.
 *
 * @param name A revision that is chosen already.
 */
export async function pickRevision(
  ask: Ask,
  uri: string,
  name: string | undefined,
): Promise<Revision | NoRepository | undefined> {
  const move = vscode.Uri.parse(uri);
  const repository = await repositoryOf(move);
  if ("problem" in repository) return repository;
  if (name !== undefined) return (await namedRevision(repository, name)) ?? { problem: noCommit(name) };
  if (repository.state.HEAD?.commit === undefined) {
    return { problem: "The repository has no commits yet, so there are no revisions to compare with." };
  }
  const params: MoveFilesParams = { uri };
  const { uris } = await ask<MoveFilesResult>(MOVE_FILES_REQUEST, params);
  const paths = await pathsIn(repository, uris);
  const offered = await offeredRevisions(repository, paths);
  const items: (vscode.QuickPickItem & { readonly revision?: Revision })[] = [
    ...offered.map((revision) => ({ label: revision.label, description: revision.about, revision })),
    { label: "Another Revision…", description: "a branch, a tag or a commit", alwaysShow: true },
  ];
  const title = `Compare ${documentTitle(uri)} with a revision`;
  const chosen = await vscode.window.showQuickPick(items, { title, matchOnDescription: true });
  return chosen && (chosen.revision ?? typedRevision(repository, title));
}

async function typedRevision(repository: GitRepository, title: string): Promise<Revision | undefined> {
  const written = await typedName(repository, title);
  return written === undefined ? undefined : namedRevision(repository, written);
}

/** A name of a commit that a person types; only those that the repository has are taken. */
export function typedName(repository: GitRepository, title: string): Thenable<string | undefined> {
  return vscode.window.showInputBox({
    title,
    prompt: "A branch, a tag or a commit",
    placeHolder: "HEAD~2",
    validateInput: async (text) => {
      if (text.trim() === "") return undefined;
      return (await namedRevision(repository, text)) ? undefined : noCommit(text);
    },
  });
}

export const noCommit = (name: string): string =>
  `There is no commit \`${name.trim()}\` in the repository of this move.`;

/** Paths of the files that the repository holds. */
async function pathsIn(repository: GitRepository, uris: readonly string[]): Promise<string[]> {
  const found = await Promise.all(
    uris.slice(0, LOOKED_AT).map(async (each) => {
      const file = vscode.Uri.parse(each);
      const home = await repositoryOf(file);
      return "problem" in home || home.rootUri.fsPath !== repository.rootUri.fsPath ? [] : [file.fsPath];
    }),
  );
  return found.flat();
}
