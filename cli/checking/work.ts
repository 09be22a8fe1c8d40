import { sweepCache } from "../../host/cache/sweep.ts";
import type { RunOptions } from "../../host/pool/run-jobs.ts";
import type { CachePlace } from "../../host/cache/result-cache.ts";
import { progressOn } from "../progress.ts";
import { cacheFor } from "./cache-option.ts";

/** How much is worked at once, and what is kept from run to run. */
export interface WorkOptions {
  readonly jobs?: number;
  /** The folder of the cache; `false` for none. */
  readonly cache?: string | false;
}

/** What long work is given. */
export type Work = Pick<RunOptions, "workers" | "onProgress"> & { readonly cache?: CachePlace };

/**
 * Does long work as the options say: with all cores, what is unchanged from the cache, and a line that tells how far it is.
 *
 * @param what Of what there are so many: `documents checked`.
 */
export async function atWork<T>(
  { jobs, cache }: WorkOptions,
  what: string,
  act: (work: Work) => Promise<T>,
): Promise<T> {
  const place = cacheFor(cache);
  const { onProgress, end } = progressOn(process.stderr, process.env, what);
  try {
    return await act({
      onProgress,
      ...(jobs === undefined ? {} : { workers: jobs }),
      ...(place ? { cache: place } : {}),
    });
  } finally {
    end();
    if (place) sweepCache(place.folder);
  }
}
