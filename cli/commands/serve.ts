import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { programPackage } from "../../host/program-package.ts";
import { Failure, type Outcome } from "../failure.ts";

export interface ServeOptions {
  readonly stdio?: boolean;
  readonly pipe?: string;
  readonly socket?: number;
  readonly nodeIpc?: boolean;
}

const SERVER = join("dist", "server", "main-node.cjs");

/**
 * `movewright serve`: the language server for any LSP client. It goes on running behind this command, and ends when its
 * client says so or goes away.
 */
export function serveCommand(options: ServeOptions): Outcome {
  const ways = [options.stdio, options.pipe, options.socket, options.nodeIpc].filter((way) => way !== undefined);
  if (ways.length !== 1) throw new Failure("give one of --stdio, --pipe, --socket and --node-ipc");
  if (options.nodeIpc && process.send === undefined) {
    throw new Failure("--node-ipc is for a Node program that starts this one with a channel");
  }
  const server = join(programPackage()?.folder ?? "", SERVER);
  if (!existsSync(server)) throw new Failure(`the language server is not there: ${server} (npm run build makes it)`);
  // The server is a bundle of its own beside this one; in this one too, the package would hold it twice. It runs from
  // being loaded, and reads from the same arguments how it talks with its client.
  createRequire(server)(server);
  return { output: "", exit: 0 };
}
