import { accessSync, constants, statSync } from "node:fs";
import { delimiter, isAbsolute, join, sep } from "node:path";

/**
 * The user's git: the first on their `PATH`. Folders of it that are relative are passed over, and the folder that the
 * program runs in is never looked into, or a repository could bring a `git` of its own.
 */
export function gitProgram(env: NodeJS.ProcessEnv): string | undefined {
  const name = sep === "\\" ? "git.exe" : "git";
  const folders = (env.PATH ?? env.Path ?? "").split(delimiter).filter((folder) => isAbsolute(folder));
  return folders.map((folder) => join(folder, name)).find(isProgram);
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    // Not there, or not for this user: the next folder may have it.
    return false;
  }
}
