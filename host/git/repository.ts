import type { FileId } from "../../core/base/span.ts";
import { fileOfPath } from "../file-path.ts";
import { nameOfBytes } from "./byte-name.ts";
import { GitFailure } from "./git-failure.ts";
import { plainWords } from "../../core/base/plain-words.ts";
import { runGit, type GitAnswer } from "./run-git.ts";

/** A repository with a working tree. */
export interface Repository {
  /** Its top folder on the disk, links followed. */
  readonly top: string;
  /** True when its history is cut off. */
  readonly isShallow: boolean;
}

/** The repository that a folder is in. Throws `GitFailure` where there is none that can be read, and says why. */
export function openRepository(folder: string): Repository {
  const facts = answered(folder, [
    "rev-parse",
    "--is-bare-repository",
    "--is-inside-work-tree",
    "--is-shallow-repository",
  ]);
  const [isBare, isInside, isShallow] = facts.toString("utf8").split("\n");
  if (isBare === "true" || isInside !== "true") {
    const what = isBare === "true" ? "is a bare repository" : "is inside of a repository's own folder";
    throw new GitFailure(`${plainWords(folder)} ${what}, with no files beside the history; run this in a clone of it`);
  }
  const top = onePath(answered(folder, ["rev-parse", "--show-toplevel"]));
  return { top, isShallow: isShallow === "true" };
}

/** The file id of what the repository has under `name`. */
export function fileInRepository({ top }: Repository, name: string): FileId {
  return `${fileOfPath(top).replace(/\/$/, "")}/${name}`;
}

/** The name that the repository has for a file, `undefined` for one outside of it. */
export function nameInRepository({ top }: Repository, file: FileId): string | undefined {
  const front = `${fileOfPath(top).replace(/\/$/, "")}/`;
  return file.startsWith(front) ? file.slice(front.length) : undefined;
}

/** The folder that all working trees of a repository share: `.git` of a plain clone. */
export function sharedFolder({ top }: Repository): string {
  return onePath(answered(top, ["rev-parse", "--path-format=absolute", "--git-common-dir"]));
}

/** What git answers to `args`; throws `GitFailure` where it refuses. */
export function answered(folder: string, args: readonly string[], input?: Uint8Array | string): Buffer {
  const answer = runGit(folder, args, { input });
  if (answer.status === 0) return answer.output;
  throw refusal(folder, args, answer);
}

/** A refusal of git in our words, with the cure where one is known. */
export function refusal(folder: string, args: readonly string[], { said, status }: GitAnswer): GitFailure {
  const shown = plainWords(folder);
  if (/not a git repository/i.test(said)) return new GitFailure(`${shown} is in no git repository`);
  const owner = /detected dubious ownership in repository at '(.*)'/.exec(said)?.[1];
  if (owner !== undefined) {
    return new GitFailure(
      `the repository at ${plainWords(owner)} belongs to another user, so git does not read it; if you trust it, run \`git config --global --add safe.directory "${plainWords(owner)}"\``,
    );
  }
  if (/cannot use bare repository|must be run in a work tree/i.test(said)) {
    return new GitFailure(`${shown} is a bare repository, with no files beside the history; run this in a clone of it`);
  }
  if (/unknown (?:option|switch)|^usage:/im.test(said)) {
    return new GitFailure(
      `the installed git does not know \`git ${args[0]}\` as it is used here; version 2.31 or newer is needed`,
    );
  }
  if (isNotFetched(said)) return notFetched(shown);
  const words = said
    .trim()
    .split("\n")[0]
    .replace(/^(?:fatal|error): /, "");
  return new GitFailure(
    `git ${args[0]} in ${shown} ended with ${status}: ${plainWords(words) || "it did not say why"}`,
  );
}

/** What git says of an object that a partial clone left at the server. */
export const isNotFetched = (said: string): boolean =>
  /promisor remote|lazy fetch|transport '.*' not allowed/i.test(said);

export const notFetched = (shown: string): GitFailure =>
  new GitFailure(
    `${shown} is a partial clone that lacks files of that revision, and nothing is fetched here; get them with \`git fetch --refetch --no-filter\``,
  );

/** A path that git printed with a newline behind it. */
function onePath(output: Buffer): string {
  const bytes = output.at(-1) === 0x0a ? output.subarray(0, -1) : output;
  const path = bytes.toString("utf8");
  if (Buffer.from(path).equals(bytes)) return path;
  throw new GitFailure(
    `the folder ${JSON.stringify(nameOfBytes(bytes))} has a name that is no UTF-8; move the repository to another one`,
  );
}
