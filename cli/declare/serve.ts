import { InvalidArgumentError, type Command } from "commander";
import { serveCommand, type ServeOptions } from "../commands/serve.ts";
import type { Answer } from "./answer.ts";

export function declareServe(program: Command, answer: Answer): void {
  program
    .command("serve")
    .description("run the language server for an editor; it ends with its client")
    .option("--stdio", "talk on standard input and output, which carries nothing else")
    .option("--pipe <name>", "talk over a socket file (on Windows a named pipe) at which the client waits")
    .option("--socket <port>", "talk over a port of this machine at which the client waits", onePort)
    .option("--node-ipc", "talk over the channel of the Node program that starts this one")
    .option("--clientProcessId <id>", "end when this process does")
    .action((options: ServeOptions) => answer(serveCommand(options)));
}

function onePort(value: string): number {
  const port = Number(value);
  if (Number.isInteger(port) && 1 <= port && port <= 65535) return port;
  throw new InvalidArgumentError("A port is a whole number from 1 to 65535.");
}
