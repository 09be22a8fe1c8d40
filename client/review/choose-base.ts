import * as vscode from "vscode";
import { noCommit, typedName } from "../pick-revision.ts";
import { repositoryOf } from "../repository-of.ts";
import { namedRevision } from "../revision-files.ts";
import { usualNames } from "./review-base.ts";

/** Names of bases that people chose, by the folders of the workspace; kept with the workspace. */
export interface ChosenBases {
  of(folder: vscode.Uri): string | undefined;
  choose(folder: vscode.Uri, name: string | undefined): Thenable<void>;
}

const KEPT = "movewright.reviewBases";

export function chosenBases(memory: vscode.Memento): ChosenBases {
  const all = () => memory.get<Readonly<Record<string, string>>>(KEPT, {});
  return {
    of: (folder) => all()[folder.toString()],
    choose(folder, name) {
      const { [folder.toString()]: _, ...others } = all();
      return memory.update(KEPT, name === undefined ? others : { ...others, [folder.toString()]: name });
    },
  };
}

/**
 * Lets a person choose the base of a folder's reviews; answers why not, as a sentence.
 *
 * @param name A base that is chosen already; empty for the automatic one.
 */
export async function chooseBase(
  bases: ChosenBases,
  folder: vscode.Uri,
  name: string | undefined,
): Promise<string | undefined> {
  const repository = await repositoryOf(folder);
  if ("problem" in repository) return repository.problem;
  if (name !== undefined) {
    if (name !== "" && !(await namedRevision(repository, name))) return noCommit(name);
    await bases.choose(folder, name || undefined);
    return undefined;
  }
  const usual = await usualNames(repository);
  const title = "Choose the base that changed moves are told against";
  const items: (vscode.QuickPickItem & { readonly name?: string })[] = [
    {
      label: "Automatic",
      description: `where this work left ${usual[0] ?? "HEAD"}; new findings are not marked`,
      name: "",
    },
    { label: "HEAD", description: "the last commit", name: "HEAD" },
    ...usual.map((each) => ({ label: each, description: "where this work left it", name: each })),
    { label: "Another Revision…", description: "a branch, a tag or a commit", alwaysShow: true },
  ];
  const picked = await vscode.window.showQuickPick(items, { title, matchOnDescription: true });
  const chosen = picked && (picked.name ?? (await typedName(repository, title)));
  if (chosen !== undefined) await bases.choose(folder, chosen.trim() || undefined);
  return undefined;
}
