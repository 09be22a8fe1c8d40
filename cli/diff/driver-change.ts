import { resolve } from "node:path";
import { projectRoot } from "../../host/project-root.ts";
import { Failure } from "../failure.ts";
import type { AskedChange } from "./asked-change.ts";

/**
 * The change of one file as git tells it to an external diff program: `path old-file old-hex old-mode new-file new-hex
 * new-mode`, and for a renamed file its new path and what git says of it (https://git-scm.com/docs/git#_git_diffs). Git runs
 * it at the top of the working tree.
 */
export function askedByGit(args: readonly string[]): AskedChange {
  const [path, oldFile, , , newFile, , , newPath = path] = args;
  if (args.length === 1) throw new Failure(`${path} is not merged yet: \`movewright diff\` compares what is`);
  if (args.length !== 7 && args.length !== 9) {
    throw new Failure(
      "--driver is for git, which hands over 7 or 9 arguments: see `git config diff.movewright.command`",
    );
  }
  const side = (as: string, from: string): { readonly as: string; readonly from: string } | undefined =>
    isNothing(from) ? undefined : { as: resolve(as), from: resolve(from) };
  const [before, after] = [side(path, oldFile), side(newPath, newFile)];
  const roots = [process.cwd(), projectRoot(newPath)];
  return {
    setting: { way: "file", ...(before ? { before } : {}), ...(after ? { after } : {}), roots },
    before: path,
    after: newPath,
    isAsked: () => true,
    named: [],
  };
}

/** Git's name for a side without the file, on Windows too. */
const isNothing = (from: string): boolean => from === "/dev/null" || from.toLowerCase() === "nul";
