import { createConnection, type Socket } from "node:net";

/**
 * The stream to a client that waits at `--pipe NAME` (a socket file, on Windows a named pipe) or at `--socket PORT` of
 * this machine, as the protocol recommends these arguments; undefined when `args` name neither.
 */
export function clientSocket(args: readonly string[]): Socket | undefined {
  const pipe = valueOf("--pipe", args);
  if (pipe !== undefined) return createConnection(pipe);
  const port = valueOf("--socket", args);
  return port === undefined ? undefined : createConnection(Number(port), "127.0.0.1");
}

/** Of `--name value` and of `--name=value`. */
function valueOf(name: string, args: readonly string[]): string | undefined {
  const at = args.findIndex((arg) => arg === name || arg.startsWith(`${name}=`));
  if (at < 0) return undefined;
  return args[at] === name ? args[at + 1] : args[at].slice(name.length + 1);
}
