import { readFileSync, realpathSync } from "node:fs";
import { dirname, join } from "node:path";

/** The version that the package states which the running program belongs to. */
export function programVersion(script = process.argv[1] ?? ""): string {
  for (let at = dirname(realpathSync(script)); ; at = dirname(at)) {
    const version = packageVersion(join(at, "package.json"));
    if (version !== undefined) return version;
    if (at === dirname(at)) return "unknown";
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
