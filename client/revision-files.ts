import { encodeBase64 } from "../protocol/base64.ts";
import type { ReadRevisionParams, ReadRevisionResult } from "../protocol/stage-ghost.ts";
import type { GitCommit, GitRepository } from "./git-repository.ts";

/** Largest file of a revision that is read [bytes], as of a file of now. */
const FILE_CAP = 20_000_000;
/** Most commits that are offered. */
const OFFERED = 30;

/** A revision that can be compared with. */
export interface Revision {
  readonly revision: string;
  /** `HEAD (1a2b3c4)`, `1a2b3c4`: as it is called beside the move. */
  readonly label: string;
  readonly about: string;
}

/**
 * A file as it stood at a revision. Rejects when the repository can't be read at all.
 *
 * @param path On the disk, in the repository.
 */
export async function readRevision(
  repository: GitRepository,
  revision: string,
  path: string,
  as: ReadRevisionParams["as"],
): Promise<ReadRevisionResult> {
  let found: { readonly object: string; readonly size: number };
  try {
    found = await repository.getObjectDetails(revision, path);
  } catch (error) {
    if ((error as { gitErrorCode?: unknown }).gitErrorCode === "UnknownPath") return { state: "missing" };
    throw error;
  }
  const facts = { state: "bytes", size: found.size, stamp: found.object } as const;
  if (as === "facts") return facts;
  if (found.size > FILE_CAP) return { state: "too-large", bytes: found.size };
  const bytes = await repository.buffer(revision, path);
  if (as === "bytes") return { ...facts, data: encodeBase64(Uint8Array.from(bytes)) };
  return { state: "text", text: new TextDecoder().decode(bytes) };
}

/**
 * The last commit, and those that changed one of `paths`, newest first.
 *
 * @param paths Files of the move on the disk that are in the repository.
 */
export async function offeredRevisions(repository: GitRepository, paths: readonly string[]): Promise<Revision[]> {
  const logs = await Promise.all(paths.map((path) => repository.log({ maxEntries: OFFERED, path })));
  const commits = new Map(logs.flat().map((commit) => [commit.hash, commit]));
  const sorted = [...commits.values()].sort((a, b) => timeOf(b) - timeOf(a)).slice(0, OFFERED);
  const head = repository.state.HEAD?.commit;
  const last = head === undefined ? [] : [await repository.getCommit(head)];
  return [
    ...last.map((commit) => revisionOf(commit, `HEAD (${short(commit)})`)),
    ...sorted.filter(({ hash }) => hash !== head).map((commit) => revisionOf(commit)),
  ];
}

/** The commit that a person means with a branch, a tag, a number or `HEAD~2`; `undefined` for no commit of the repository. */
export async function namedRevision(repository: GitRepository, written: string): Promise<Revision | undefined> {
  const name = written.trim();
  // What begins with a dash would be read as an option.
  if (name === "" || name.startsWith("-")) return undefined;
  const commit = await repository.getCommit(name).catch(() => undefined);
  if (!commit) return undefined;
  return revisionOf(commit, commit.hash.startsWith(name) ? undefined : `${name} (${short(commit)})`);
}

function revisionOf(commit: GitCommit, label = short(commit)): Revision {
  const [first] = commit.message.split("\n");
  const { authorName, authorDate = commit.commitDate } = commit;
  const when = authorDate === undefined ? undefined : authorDate.toISOString().slice(0, 10);
  return { revision: commit.hash, label, about: [first, authorName, when].filter(Boolean).join(" · ") };
}

const short = ({ hash }: GitCommit): string => hash.slice(0, 7);

const timeOf = ({ commitDate, authorDate }: GitCommit): number => (commitDate ?? authorDate)?.getTime() ?? 0;
