import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { encodeBase64 } from "../protocol/base64.ts";
import {
  ASSET_GLOB,
  DOCUMENT_GLOB,
  LIST_FILES_REQUEST,
  READ_FILE_REQUEST,
  type ListFilesParams,
  type ListFilesResult,
  type ReadFileParams,
  type ReadFileResult,
} from "../protocol/requests.ts";

/** Largest file that is read for the server [bytes]. */
const FILE_CAP = 20_000_000;

/** Reads and lists files for a server that can't: those of a web editor or of a file system that an extension brings. */
export function answerFileRequests(client: BaseLanguageClient): vscode.Disposable {
  return vscode.Disposable.from(
    client.onRequest(READ_FILE_REQUEST, ({ uri, as = "text" }: ReadFileParams) => readFile(vscode.Uri.parse(uri), as)),
    client.onRequest(LIST_FILES_REQUEST, (params: ListFilesParams) => listFiles(params)),
  );
}

async function readFile(uri: vscode.Uri, as: NonNullable<ReadFileParams["as"]>): Promise<ReadFileResult> {
  try {
    const { size, mtime, type } = await vscode.workspace.fs.stat(uri);
    if ((type & vscode.FileType.File) === 0) return { state: "missing" };
    const facts = { state: "bytes", size, stamp: `${size}-${mtime}` } as const;
    if (as === "facts") return facts;
    if (size > FILE_CAP) return { state: "too-large", bytes: size };
    if (as === "bytes") return { ...facts, data: encodeBase64(await vscode.workspace.fs.readFile(uri)) };
    return { state: "text", text: new TextDecoder().decode(await vscode.workspace.fs.readFile(uri)) };
  } catch {
    // Whatever keeps the editor from the file (not there, no right, no such file system), for the server it is missing.
    return { state: "missing" };
  }
}

async function listFiles({ cap, what }: ListFilesParams): Promise<ListFilesResult> {
  const glob = what === "assets" ? ASSET_GLOB : DOCUMENT_GLOB;
  const found = await vscode.workspace.findFiles(glob, "**/node_modules/**", cap);
  return { uris: found.map((uri) => uri.toString()) };
}
