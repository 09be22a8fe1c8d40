import * as vscode from "vscode";
import type { ReviewSide } from "../../protocol/review.ts";
import { repositoryOf } from "../repository-of.ts";
import { namedRevision } from "../revision-files.ts";

/**
 * Which state of which file an address of the editor's comparisons means: a file as it stands, or a commit by the address that
 * the Git extension gives it, whose query has path and name of the commit. `undefined` for any other.
 */
export async function sideOf(uri: vscode.Uri): Promise<ReviewSide | undefined> {
  if (uri.scheme !== "git") return uri.query === "" ? { uri: uri.toString() } : undefined;
  const told = gitQuery(uri.query);
  if (!told) return undefined;
  const file = vscode.Uri.file(told.path);
  const repository = await repositoryOf(file);
  if ("problem" in repository) return undefined;
  // Text that is staged is of no commit.
  const isStaged = repository.state.indexChanges.some(({ uri: staged }) => staged.toString() === file.toString());
  if (told.isIndex && isStaged) return undefined;
  const found = await namedRevision(repository, told.ref);
  return found && { uri: file.toString(), revision: found.revision };
}

/** `~` stands for the index, which is as the last commit has it where nothing is staged. */
function gitQuery(
  query: string,
): { readonly path: string; readonly ref: string; readonly isIndex: boolean } | undefined {
  try {
    const { path, ref } = JSON.parse(query) as Partial<Record<"path" | "ref", unknown>>;
    if (typeof path !== "string" || typeof ref !== "string") return undefined;
    return { path, ref: ref === "~" ? "HEAD" : ref, isIndex: ref === "~" };
  } catch {
    // Another extension's address in the same scheme.
    return undefined;
  }
}
