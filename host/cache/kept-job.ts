import type { FileId } from "../../core/base/span.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { Job, OpenJob } from "../pool/job.ts";
import { notedSources, type NotedSources } from "./input-digest.ts";
import { findResult, keepResult, type CachePlace, type Read } from "./result-cache.ts";

/** Where a job reads, by names of its own: one side, or what was and what is. */
export type Sides = Readonly<Record<string, Sources>>;

/** A job whose outputs may be kept, since they hang on its input, on its setting and on files that it reads, and on nothing else. */
export interface KeptJob<Setting, Input, Output> {
  sides(setting: Setting): Sides;
  /** `sides` are to be read whenever an output hangs on a file, also where the thread remembers what it is. */
  open(setting: Setting, sides: Sides): (input: Input) => Output | Promise<Output>;
  failed(input: Input, error: unknown): Output;
  /** What of the input and the setting the output hangs on, as text. */
  question(input: Input, setting: Setting): string;
  /** Files that the output says that it hangs on, beside those that were seen to be read; by side. */
  inputs(output: Output): Readonly<Record<string, readonly FileId[]>>;
  /** Whether what was found can be an output, and may be told again. */
  isOutput(value: unknown): value is Output;
}

export interface KeptSetting {
  /** Nothing is kept without it. */
  readonly cache?: CachePlace;
}

/** The job `kind` with its outputs kept from run to run. */
export function keptJob<Setting extends KeptSetting, Input, Output>(
  kind: string,
  job: KeptJob<Setting, Input, Output>,
): Job<Setting, Input, Output> {
  return {
    failed: (input, error) => job.failed(input, error),
    open(setting) {
      const { cache } = setting;
      if (!cache) return { work: job.open(setting, job.sides(setting)) };
      return openKept(kind, job, setting, cache);
    },
  };
}

function openKept<Setting, Input, Output>(
  kind: string,
  job: KeptJob<Setting, Input, Output>,
  setting: Setting,
  cache: CachePlace,
): OpenJob<Input, Output> {
  const sides = Object.entries(job.sides(setting)).map(([name, sources]) => ({ name, noted: notedSources(sources) }));
  const work = job.open(setting, Object.fromEntries(sides.map(({ name, noted }) => [name, noted])));
  const question = (input: Input): string => JSON.stringify([kind, job.question(input, setting)]);
  const now = (side: string, file: FileId): string | undefined =>
    sides.find(({ name }) => name === side)?.noted.digest(file);
  return {
    known(input) {
      const found = findResult(cache, question(input), now);
      return job.isOutput(found) ? found : undefined;
    },
    async work(input) {
      for (const { noted } of sides) noted.takeReads();
      const output = await work(input);
      const said = job.inputs(output);
      const reads = sides.flatMap((side) => readsOf(side, said[side.name] ?? []));
      if (job.isOutput(output) && reads.every(isSure)) keepResult(cache, question(input), reads, output);
      return output;
    },
  };
}

type Unsure = Omit<Read, "digest"> & { readonly digest: string | undefined };

const isSure = (read: Unsure): read is Read => read.digest !== undefined;

/** What was read on a side since it was asked last, in the order of the names. */
function readsOf({ name, noted }: { name: string; noted: NotedSources }, said: readonly FileId[]): Unsure[] {
  const files = [...new Set([...noted.takeReads(), ...said])].sort();
  return files.map((file) => ({ side: name, file, digest: noted.digest(file) }));
}
