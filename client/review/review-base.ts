import type { ChangedFile, ReviewBase } from "../../protocol/review.ts";
import type { GitChange, GitRepository } from "../git-repository.ts";
import { namedRevision, type Revision } from "../revision-files.ts";

/** Where a branch of its own usually comes from, in the order of trust; common practice, no source. */
const USUAL = ["origin/HEAD", "origin/main", "origin/master", "main", "master"];
/** Git extension's number for a file that Git does not know. */
const UNTRACKED = 7;

/** What a folder's moves are told against, or why there is nothing, as a sentence. */
export type FoundBase =
  | {
      readonly base: ReviewBase;
      /** `main (1a2b3c4)`. */
      readonly about: string;
      readonly changed: readonly ChangedFile[];
    }
  | { readonly problem: string };

/**
 * The commit that is the base of a review and what the disk has otherwise: of a chosen name, else of the branch that work
 * usually begins from, the commit at which the work of now left it, so that what others did since is no change of ours.
 *
 * @param of Uri of the folder.
 * @param chosen A branch, a tag or a commit that a person chose.
 */
export async function findBase(repository: GitRepository, of: string, chosen: string | undefined): Promise<FoundBase> {
  const head = repository.state.HEAD?.commit;
  if (head === undefined) return { problem: "The repository has no commits yet, so there is no base to compare with." };
  const named = chosen === undefined ? await usual(repository) : await called(repository, chosen);
  if (!named && chosen !== undefined)
    return { problem: `There is no commit \`${chosen}\` in the repository any more. Choose another base.` };
  const left = named && (await repository.getMergeBase(head, named.revision));
  const revision = left ?? named?.revision ?? head;
  const label = !named || (chosen === undefined && revision === head) ? "HEAD" : named.name;
  return {
    base: { of, revision, label },
    about: aboutBase(label, revision, chosen === undefined),
    changed: await changedFiles(repository, revision),
  };
}

type Named = Revision & { readonly name: string };

async function called(repository: GitRepository, name: string): Promise<Named | undefined> {
  const found = await namedRevision(repository, name);
  return found && { ...found, name: found.revision.startsWith(name.trim()) ? found.revision.slice(0, 7) : name.trim() };
}

async function usual(repository: GitRepository): Promise<Named | undefined> {
  for (const name of USUAL) {
    const found = await called(repository, name);
    if (found) return found;
  }
  return undefined;
}

/** Of the names that work usually begins from, those that the repository has. */
export async function usualNames(repository: GitRepository): Promise<string[]> {
  const found = await Promise.all(USUAL.map((name) => namedRevision(repository, name)));
  return USUAL.filter((_, idx) => found[idx] !== undefined);
}

function aboutBase(label: string, revision: string, isUsual: boolean): string {
  const short = revision.slice(0, 7);
  return `${label}${label === short ? "" : ` (${short})`}${isUsual ? ", by default" : ""}`;
}

/** Files that the disk has otherwise than a commit, with those that Git does not know. */
export async function changedFiles(repository: GitRepository, revision: string): Promise<ChangedFile[]> {
  const { workingTreeChanges, untrackedChanges = [] } = repository.state;
  const unknown = [...workingTreeChanges, ...untrackedChanges].filter(({ status }) => status === UNTRACKED);
  const changes = [...(await repository.diffWith(revision)), ...unknown].map(changedFile);
  return [...new Map(changes.map((change) => [change.uri, change])).values()];
}

function changedFile({ uri, originalUri, renameUri }: GitChange): ChangedFile {
  if (!renameUri || renameUri.toString() === originalUri.toString()) return { uri: uri.toString() };
  return { uri: renameUri.toString(), was: originalUri.toString() };
}
