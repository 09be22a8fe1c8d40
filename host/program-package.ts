import { readFileSync, realpathSync } from "node:fs";
import { dirname, join } from "node:path";

export interface ProgramPackage {
  readonly folder: string;
  readonly version: string;
}

/** The package that the running program belongs to: the nearest one of ours above its script, links resolved. */
export function programPackage(script = process.argv[1] ?? ""): ProgramPackage | undefined {
  for (let at = dirname(realpathSync(script)); ; at = dirname(at)) {
    const version = packageVersion(join(at, "package.json"));
    if (version !== undefined) return { folder: at, version };
    if (at === dirname(at)) return undefined;
  }
}

function packageVersion(path: string): string | undefined {
  try {
    const stated = JSON.parse(readFileSync(path, "utf8")) as { name?: unknown; version?: unknown };
    return stated.name === "movewright" && typeof stated.version === "string" ? stated.version : undefined;
  } catch {
    // No package here, or not ours: the one above is asked.
    return undefined;
  }
}
