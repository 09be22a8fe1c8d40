import { Failure, type Outcome } from "../failure.ts";

export interface ServeOptions {
  readonly stdio?: boolean;
  readonly pipe?: string;
  readonly socket?: number;
  readonly nodeIpc?: boolean;
}

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
  // Loaded only now: every other command does without it. It reads from the same arguments how it talks with its client.
  void import("../../server/node-server.ts").then(({ serveOnNode }) => serveOnNode());
  return { output: "", exit: 0 };
}
