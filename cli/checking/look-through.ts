import { programSum } from "../../host/cache/program-identity.ts";
import { programVersion } from "../../host/program-version.ts";
import { findDocuments, type Given } from "../documents.ts";
import { Failure } from "../failure.ts";
import { checkDocuments } from "./check-documents.ts";
import { mergeResults, type LookedThrough } from "./merge-results.ts";
import { writeResult } from "./result-file.ts";
import { readShard, shardOf, sumOf } from "./shard.ts";
import { atWork, type WorkOptions } from "./work.ts";

export interface LookOptions extends WorkOptions {
  /** `2/3`. */
  readonly shard?: string;
  /** File for what was found, to be merged. */
  readonly result?: string;
  /** Files of the results of all shards, in place of documents. */
  readonly merge?: readonly string[];
  readonly force?: boolean;
}

/** Finds and checks the documents that `paths` name, or those of a shard, or takes what other machines found in them. */
export async function lookThrough(paths: readonly string[], options: LookOptions): Promise<LookedThrough> {
  const { shard: written, result, merge } = options;
  if (merge) {
    const others = [...(paths.length > 0 ? ["paths"] : []), ...(written ? ["--shard"] : []), ...(result ? ["--result"] : [])]; // prettier-ignore
    if (others.length > 0)
      throw new Failure(`--merge takes all from the results and goes with no ${others.join(" or ")}`);
    return mergeResults(merge, programName());
  }
  const all = findDocuments(paths.length === 0 ? ["."] : paths);
  const shard = written === undefined ? { number: 1, of: 1 } : readShard(written);
  const own = shardOf(all, shard);
  const indices = all.map((_, index) => index).filter((index) => own.has(index));
  const documents = indices.map((index) => all[index]);
  const checked = await atWork(options, "documents checked", (work) =>
    checkDocuments(documents, { among: all, ...work }),
  );
  if (result !== undefined) {
    const found = indices.map((index, i) => ({ index, path: all[index].path, checked: checked[i] }));
    const sum = { count: all.length, sum: sumOf(all) };
    writeResult(result, { shard, program: programName(), all: sum, documents: found }, options.force === true);
  }
  return { documents, checked, notes: written === undefined ? [] : [shardNote(written, documents, all)] };
}

/** Version and contents: two builds of a version may find different things. */
function programName(): string {
  const sum = programSum();
  return sum === undefined ? programVersion() : `${programVersion()}, ${sum.slice(0, 12)}`;
}

function shardNote(shard: string, documents: readonly Given[], all: readonly Given[]): string {
  const others = all.length - documents.length;
  return `shard ${shard}: ${documents.length} of ${all.length} documents are checked here, ${others} are left to other shards`;
}
