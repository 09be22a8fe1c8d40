import { spawnSync } from "node:child_process";
import { devNull } from "node:os";
import { gitEnvironment } from "./git-environment.ts";
import { GitFailure } from "./git-failure.ts";
import { gitProgram } from "./git-program.ts";
import { plainWords } from "../../core/base/plain-words.ts";

/** Longest that git may take for one answer [ms]. */
const PATIENCE = 120_000;
/** Most that one answer may have [bytes], unless more is asked for. */
const MOST = 256 * 1024 * 1024;

/** What would start a program that a repository names, or wait for somebody. */
const HARDENED = [
  "--no-pager",
  "--literal-pathspecs",
  ...["core.fsmonitor=false", `core.hooksPath=${devNull}`, "core.pager=cat", "log.showSignature=false"],
  ...["protocol.allow=never", "submodule.recurse=false"],
].flatMap((option) => (option.startsWith("--") ? [option] : ["-c", option]));

export interface GitAnswer {
  /** Exit code of git. */
  readonly status: number;
  readonly output: Buffer;
  /** What git said against it, as it said it. */
  readonly said: string;
}

export interface GitOptions {
  readonly input?: Uint8Array | string;
  /** Most that the answer may have [bytes]. */
  readonly most?: number;
  /** Takes the beginning of a longer answer for the whole. */
  readonly isCut?: boolean;
}

/**
 * Runs the user's git in a folder, without a shell. `args` are git's own; what comes from people goes behind
 * `--end-of-options` or `--`. Throws `GitFailure` when there is no git or it can't be run; its own refusals are answers.
 */
export function runGit(
  folder: string,
  args: readonly string[],
  { input, most = MOST, isCut = false }: GitOptions = {},
): GitAnswer {
  const program = gitProgram(process.env);
  if (program === undefined) {
    throw new GitFailure(
      "git is not installed, or not on the PATH; revisions are read with it: see https://git-scm.com",
    );
  }
  const { status, signal, stdout, stderr, error } = spawnSync(program, [...HARDENED, ...args], {
    cwd: folder,
    env: gitEnvironment(process.env),
    input: input ?? "",
    maxBuffer: most,
    timeout: PATIENCE,
    killSignal: "SIGKILL",
    shell: false,
    windowsHide: true,
  });
  if (isCut && (error as NodeJS.ErrnoException | undefined)?.code === "ENOBUFS") {
    return { status: 0, output: stdout, said: "" };
  }
  if (error !== undefined || status === null) throw new GitFailure(whyNot(folder, error, signal));
  return { status, output: stdout, said: stderr.toString("utf8") };
}

function whyNot(folder: string, error: NodeJS.ErrnoException | undefined, signal: string | null): string {
  const shown = plainWords(folder);
  if (error?.code === "ENOENT" || error?.code === "ENOTDIR") return `${shown} is no folder that git can be run in`;
  if (error?.code === "EACCES") return `${shown} may not be looked into`;
  if (error?.code === "ETIMEDOUT") return `git did not answer within ${PATIENCE / 1000} s in ${shown}`;
  if (error?.code === "ENOBUFS") return `git's answer in ${shown} is larger than can be read`;
  return `git could not be run in ${shown}: ${error ? plainWords(error.message) : (signal ?? "it was ended")}`;
}
