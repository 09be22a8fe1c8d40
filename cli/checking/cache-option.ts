import { defaultCacheFolder } from "../../host/cache/cache-place.ts";
import { CacheRefused, openCache } from "../../host/cache/open-cache.ts";
import { programIdentity } from "../../host/cache/program-identity.ts";
import type { CachePlace } from "../../host/cache/result-cache.ts";
import { Failure } from "../failure.ts";

/**
 * Where results are kept: in the folder that was named, else in that of the person's own caches; `undefined` when nothing is
 * to be kept (`false`) or can be. Throws `Failure` for a named folder that can't hold a cache.
 */
export function cacheFor(named: string | boolean | undefined, program = programIdentity()): CachePlace | undefined {
  const asked = typeof named === "string" ? named : undefined;
  const folder = asked ?? (named === false ? undefined : defaultCacheFolder(process));
  if (folder === undefined || program === undefined) return undefined;
  try {
    return openCache(folder, program);
  } catch (error) {
    if (!(error instanceof CacheRefused)) throw error;
    // Where nobody asked for one, the program does without.
    if (asked === undefined) return undefined;
    throw new Failure(`--cache ${error.message}; name another folder, or leave it with --no-cache`);
  }
}
