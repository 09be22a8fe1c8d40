import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

/** A repository of a test in a folder of its own, made with git as nobody's configuration would change it. */
export interface TestRepository {
  readonly folder: string;
  git(...args: readonly string[]): string;
  /** Writes files; a name may be bytes. */
  put(files: Readonly<Record<string, string>>): void;
  putBytes(name: Buffer, content: string | Uint8Array): void;
  /** Adds everything and commits it; gives the commit's id. */
  commit(message: string): string;
}

/** Folder of a test in which repositories are made; its `env` is what git and the program are run with. */
export interface TestFolder {
  readonly folder: string;
  readonly env: NodeJS.ProcessEnv;
  repository(name: string): TestRepository;
  git(folder: string, ...args: readonly string[]): string;
  remove(): void;
}

export function testFolder(name: string): TestFolder {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), `${name}-`)));
  const env = { ...process.env, ...gitIdentity(folder) };
  const git = (at: string, ...args: readonly string[]): string =>
    execFileSync("git", args, { cwd: at, env, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
  return {
    folder,
    env,
    git,
    repository(at) {
      const path = join(folder, at);
      mkdirSync(path, { recursive: true });
      git(path, "init", "--quiet", "--initial-branch=main");
      return repositoryAt(path, (...args) => git(path, ...args));
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** A repository that is there already: a clone, another working tree. */
export function repositoryAt(folder: string, git: TestRepository["git"]): TestRepository {
  const put = (path: string | Buffer, content: string | Uint8Array): void => writeFileSync(path, content);
  return {
    folder,
    git,
    put(files) {
      for (const [name, text] of Object.entries(files)) {
        mkdirSync(dirname(join(folder, name)), { recursive: true });
        put(join(folder, name), text);
      }
    },
    putBytes: (name, content) => put(Buffer.concat([Buffer.from(`${folder}/`), name]), content),
    commit(message) {
      git("add", "--all");
      git("commit", "--quiet", "--allow-empty", "--message", message);
      return git("rev-parse", "HEAD").trim();
    },
  };
}

/** Nobody's configuration and an invented author at a fixed time. */
function gitIdentity(home: string): NodeJS.ProcessEnv {
  return {
    HOME: home,
    XDG_CONFIG_HOME: home,
    GIT_CONFIG_NOSYSTEM: "1",
    GIT_AUTHOR_NAME: "Potter",
    GIT_AUTHOR_EMAIL: "potter@example.invalid",
    GIT_AUTHOR_DATE: "2024-02-03T10:00:00Z",
    GIT_COMMITTER_NAME: "Potter",
    GIT_COMMITTER_EMAIL: "potter@example.invalid",
    GIT_COMMITTER_DATE: "2024-02-03T10:00:00Z",
  };
}

/** Runs `act` with the variables of a test folder, as the program would be run in it. */
export function withEnv<T>(env: NodeJS.ProcessEnv, act: () => T): T {
  const before = process.env;
  process.env = { ...env };
  try {
    return act();
  } finally {
    process.env = before;
  }
}
