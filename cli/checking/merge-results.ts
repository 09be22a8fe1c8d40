import { plainWords } from "../../core/base/plain-words.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import type { Given } from "../documents.ts";
import { Failure } from "../failure.ts";
import { readResult, type ResultDocument, type ShardResult } from "./result-file.ts";

/** What was looked through: documents as they were given, and what was found in each. */
export interface LookedThrough {
  readonly documents: readonly Given[];
  readonly checked: readonly CheckedDocument[];
  readonly notes: readonly string[];
}

interface Named {
  readonly path: string;
  readonly result: ShardResult;
}

/**
 * Puts the results of all shards of one run together: the same as of a run that was not split. Throws `Failure` for results
 * that are not those of one run, one of each shard.
 */
export function mergeResults(paths: readonly string[], program: string): LookedThrough {
  const named = paths.map((path): Named => ({ path: plainWords(path), result: readResult(path) }));
  const [first, ...others] = named;
  for (const other of others) requireSameRun(first, other);
  if (first.result.program !== program) {
    throw new Failure(`${first.path} is of another program (${plainWords(first.result.program)}) than this one (${program}); merge with the version that checked`); // prettier-ignore
  }
  requireEachShard(named);
  const found = new Map<number, ResultDocument>();
  for (const { result } of named) for (const one of result.documents) found.set(one.index, one);
  const inOrder = Array.from({ length: first.result.all.count }, (_, index) => found.get(index));
  const all = inOrder.filter((one) => one !== undefined);
  if (all.length < inOrder.length || found.size > inOrder.length) {
    throw new Failure(`the results hold ${found.size} of ${inOrder.length} documents; somebody changed one of them: write them anew with --result`); // prettier-ignore
  }
  return {
    documents: all.map(({ path, checked }) => ({ path, file: checked.file })),
    checked: all.map(({ checked }) => checked),
    notes: [],
  };
}

function requireSameRun(first: Named, other: Named): void {
  const [a, b] = [first.result, other.result];
  const pair = `${first.path} and ${other.path}`;
  if (a.program !== b.program) {
    throw new Failure(`${pair} are of two programs (${plainWords(a.program)}, ${plainWords(b.program)}); use one version on all machines`); // prettier-ignore
  }
  if (a.shard.of !== b.shard.of) {
    throw new Failure(`${pair} are of runs that were split in ${a.shard.of} and in ${b.shard.of}; use one count on all machines`); // prettier-ignore
  }
  if (a.all.sum !== b.all.sum) {
    throw new Failure(`${pair} are of different documents (${a.all.count}, ${b.all.count}); run all shards on one revision, from one folder, with the same paths`); // prettier-ignore
  }
}

function requireEachShard(named: readonly Named[]): void {
  const { of } = named[0].result.shard;
  const byNumber = new Map<number, string>();
  for (const { path, result } of named) {
    const { number } = result.shard;
    const other = byNumber.get(number);
    if (other !== undefined)
      throw new Failure(`${other} and ${path} are both shard ${number}/${of}; give each shard once`);
    byNumber.set(number, path);
  }
  const missing = Array.from({ length: of }, (_, i) => i + 1).filter((number) => !byNumber.has(number));
  if (missing.length > 0) {
    const list = missing.map((number) => `${number}/${of}`).join(", ");
    throw new Failure(`no result of shard ${list}; give the results of all shards`);
  }
}
