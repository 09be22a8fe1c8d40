import { isAbsolute, join } from "node:path";

/** What a default place is found from. */
export interface Surroundings {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
}

/**
 * The folder for what a person's programs can make anew, as the system has it: `XDG_CACHE_HOME` or `~/.cache` (XDG Base
 * Directory Specification 0.8), `~/Library/Caches`, `%LOCALAPPDATA%`. `undefined` where no absolute one is known.
 */
export function defaultCacheFolder({ env, platform }: Surroundings): string | undefined {
  const base = baseFolder(env, platform);
  return base === undefined || !isAbsolute(base) ? undefined : join(base, "movewright");
}

function baseFolder(env: Surroundings["env"], platform: NodeJS.Platform): string | undefined {
  const { HOME: home = "", LOCALAPPDATA: local = "", XDG_CACHE_HOME: named = "" } = env;
  if (platform === "win32") return local === "" ? undefined : local;
  if (platform !== "darwin" && isAbsolute(named)) return named;
  if (home === "") return undefined;
  return platform === "darwin" ? join(home, "Library", "Caches") : join(home, ".cache");
}
