import { createConnection, ProposedFeatures, type Connection } from "vscode-languageserver/node";
import type { FileId } from "../core/base/span.ts";
import { clientSocket } from "../host/client-socket.ts";
import { diskBytes, diskSources } from "../host/disk-sources.ts";
import { fileOfPath, pathOfFile } from "../host/file-path.ts";
import { projectRoot } from "../host/project-root.ts";
import { assetsUnder, documentsUnder } from "../host/walk.ts";
import type { ListedFiles } from "../protocol/requests.ts";
import { createEngine } from "./engine.ts";
import { isVirtual } from "./files/file-uri.ts";
import { listThroughClient, type MakePlatform, type OpenFiles } from "./platform.ts";
import { bytesWithin, readWithin } from "./files/readable.ts";
import { serve } from "./serve.ts";

/** Node: files of the disk are read here, those of other file systems through the client. */
const onNode: MakePlatform = (client, open) => ({
  beat: { now: () => performance.now(), pause: () => new Promise((resolve) => setImmediate(resolve)) },
  readFile: async (file) => (isVirtual(file) ? readWithin(client, file, open) : diskSources(rootsOf(open)).read(file)),
  readBytes: async (file, cap) =>
    isVirtual(file) ? bytesWithin(client, file, open, cap) : diskBytes(file, rootsOf(open), cap),
  listFiles: async (cap, what) => {
    if (client.canList) return listThroughClient(client, cap, what);
    return open
      .folders()
      .filter((folder) => !isVirtual(folder))
      .flatMap((folder) => filesIn(folder, what))
      .slice(0, cap);
  },
});

/** Folders within which documents may refer to each other: those of the workspace, else the project around each open document. */
function rootsOf(open: OpenFiles): string[] {
  const folders = open.folders();
  const alone = open.files().filter((file) => !isVirtual(file) && !folders.some((at) => file.startsWith(`${at}/`)));
  return [...folders.map(pathOfFile), ...alone.map((file) => projectRoot(pathOfFile(file)))];
}

function filesIn(folder: FileId, what: ListedFiles): FileId[] {
  try {
    const under = what === "documents" ? documentsUnder : assetsUnder;
    return under(pathOfFile(folder)).map(fileOfPath);
  } catch {
    // A folder of the workspace that is gone holds nothing.
    return [];
  }
}

/** Over what the program's arguments name. Nobody is left to serve when the client is gone: then the process ends. */
function clientConnection(): Connection {
  const args = process.argv.slice(2);
  if (args.includes("--node-ipc")) process.on("disconnect", () => process.exit(1));
  const socket = clientSocket(args);
  if (!socket) return createConnection(ProposedFeatures.all);
  socket.on("error", ({ message }) => {
    console.error(`movewright: the client can't be reached: ${message}`);
    process.exit(2);
  });
  return createConnection(ProposedFeatures.all, socket, socket);
}

/** Serves the client that the program's arguments name, until it goes away. */
export function serveOnNode(): void {
  serve(clientConnection(), onNode, createEngine());
}
