/** A task of ours as `tasks.json` states it. What a person wrote there may be of any shape. */
export interface CheckDefinition {
  readonly type: string;
  readonly command: string;
  /** Documents or folders, relative to the folder of the task. Default: that folder. */
  readonly paths?: readonly string[];
  /** Fail with warnings too. */
  readonly strict?: boolean;
  readonly [more: string]: unknown;
}

/** Arguments of the command line; `undefined` for a definition that says something else. */
export function checkArguments({ command, paths = [], strict = false }: CheckDefinition): string[] | undefined {
  const isList = Array.isArray(paths) && paths.every((path) => typeof path === "string" && path !== "");
  if (command !== "check" || !isList || typeof strict !== "boolean") return undefined;
  // Behind `--` a path that begins with a dash is a path.
  return ["check", ...(strict ? ["--strict"] : []), "--", ...paths];
}
