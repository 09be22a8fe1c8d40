import { mergeBase, resolveRevision, type Revision } from "./revision.ts";
import type { Repository } from "./repository.ts";

/** What is compared: a commit with another one, or with the files on the disk. */
export interface Range {
  readonly before: Revision;
  readonly after: Revision | "working-tree";
}

/**
 * Reads `BASE..HEAD`, `BASE...HEAD` (from the last commit that both have) and `BASE` alone (to the files on the disk). A side
 * that is left out is `HEAD`, as git has it. Throws `GitFailure` where a side is unknown.
 */
export function resolveRange(repository: Repository, written: string): Range {
  const [, base, dots, head] = /^(.*?)(\.{2,3})(?!\.)(.*)$/s.exec(written) ?? ["", written, "", ""];
  const before = resolveRevision(repository, dots === "" ? base : base || "HEAD");
  if (dots === "") return { before, after: "working-tree" };
  const after = resolveRevision(repository, head || "HEAD");
  return { before: dots === "..." ? mergeBase(repository, before, after) : before, after };
}
