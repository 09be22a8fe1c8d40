import { nearestName } from "../../core/base/nearest-name.ts";
import { GitFailure } from "./git-failure.ts";
import { plainWords } from "../../core/base/plain-words.ts";
import { answered, isNotFetched, notFetched, refusal, type Repository } from "./repository.ts";
import { runGit } from "./run-git.ts";

/** A commit by the name that it was asked for and by its object id. */
export interface Revision {
  readonly name: string;
  readonly commit: string;
}

/** The commit that a name means: a branch, a tag, `HEAD~2`, an id. Throws `GitFailure` where there is none. */
export function resolveRevision(repository: Repository, name: string): Revision {
  const { top } = repository;
  if (name === "" || name.includes("\0"))
    throw new GitFailure(`a revision is missing: name a branch, a tag or a commit`);
  const found = runGit(top, ["rev-parse", "--verify", "--end-of-options", name]);
  if (found.status !== 0) throw unknownRevision(repository, name, found.said);
  const id = found.output.toString("utf8").trim();
  const commit = runGit(top, ["rev-parse", "--verify", "--end-of-options", `${id}^{commit}`]);
  if (commit.status === 0) return { name, commit: commit.output.toString("utf8").trim() };
  if (isNotFetched(commit.said)) throw notFetched(plainWords(top));
  // An id in full is taken by its looks: whether it is here shows only now.
  const isHere = runGit(top, ["cat-file", "-e", id]).status === 0;
  if (!isHere) throw unknownRevision(repository, name, "");
  throw new GitFailure(`${quoted(name)} is no commit; name a branch, a tag or a commit`);
}

/** The last commit that both have in their histories. Throws `GitFailure` where there is none here. */
export function mergeBase(repository: Repository, one: Revision, other: Revision): Revision {
  const args = ["merge-base", "--end-of-options", one.commit, other.commit];
  const answer = runGit(repository.top, args);
  const [commit] = answer.output.toString("utf8").split("\n");
  if (answer.status === 0 && commit !== "") return { name: `${one.name}...${other.name}`, commit };
  if (answer.status !== 1) throw refusal(repository.top, args, answer);
  const both = `${quoted(one.name)} and ${quoted(other.name)} have no commit in common`;
  throw new GitFailure(
    repository.isShallow
      ? `${both} in this shallow clone; ${DEEPEN}`
      : `${both}; compare them as they are with \`${plainWords(one.name)}..${plainWords(other.name)}\``,
  );
}

const DEEPEN = "get the rest of the history with `git fetch --unshallow` (in CI: a checkout with `fetch-depth: 0`)";

function unknownRevision(repository: Repository, name: string, said: string): GitFailure {
  if (isNotFetched(said)) return notFetched(plainWords(repository.top));
  if (isEmpty(repository))
    return new GitFailure("the repository has no commit yet, so there is nothing to compare with");
  const why = `${quoted(name)} is no revision of the repository at ${plainWords(repository.top)}`;
  const meant = nearestRef(repository, name);
  const hint = meant === undefined ? [] : [`did you mean \`${plainWords(meant)}\`?`];
  const cure = repository.isShallow ? [`the clone is shallow: ${DEEPEN}`] : [];
  const fetch = hint.length + cure.length === 0 ? ["`git branch --all` and `git tag` list what there is"] : [];
  return new GitFailure([why, ...hint, ...cure, ...fetch].join("; "));
}

/** True when nothing was ever committed on any branch. */
function isEmpty({ top }: Repository): boolean {
  return refNames(top).length === 0 && runGit(top, ["rev-parse", "--verify", "HEAD"]).status !== 0;
}

/** The branch or tag that was most likely meant: the same one of a remote, or one that is spelt much like it. */
function nearestRef({ top }: Repository, name: string): string | undefined {
  const names = ["HEAD", ...refNames(top)];
  return names.find((ref) => ref.endsWith(`/${name}`)) ?? nearestName(name, names);
}

function refNames(top: string): string[] {
  const output = answered(top, [
    "for-each-ref",
    "--count=5000",
    "--format=%(refname:short)",
    "refs/heads",
    "refs/tags",
    "refs/remotes",
  ]);
  return output
    .toString("utf8")
    .split("\n")
    .filter((name) => name !== "");
}

const quoted = (name: string): string => `\`${plainWords(name)}\``;
