/**
 * What of git's own variables is handed on: where its configuration and its parts are. Those that name a repository are
 * not, since they are about another folder than the one that is asked for; nor those that name programs to start.
 */
const KEPT =
  /^GIT_(?:CONFIG_(?:NOSYSTEM|GLOBAL|SYSTEM|COUNT|KEY_\d+|VALUE_\d+|PARAMETERS)|EXEC_PATH|CEILING_DIRECTORIES|DISCOVERY_ACROSS_FILESYSTEM)$/;

/** Never asks, never fetches, never writes to the index, and speaks English, which is read here. */
const FIXED = {
  GIT_OPTIONAL_LOCKS: "0",
  GIT_TERMINAL_PROMPT: "0",
  GIT_NO_LAZY_FETCH: "1",
  // For versions that do not know the one above: no way to another machine is allowed.
  GIT_ALLOW_PROTOCOL: "none",
  LC_ALL: "C",
};

/** The variables that git is started with. */
export function gitEnvironment(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  const kept = Object.entries(env).filter(([name]) => (!/^GIT_/i.test(name) || KEPT.test(name)) && name !== "LANGUAGE");
  return { ...Object.fromEntries(kept), ...FIXED };
}
