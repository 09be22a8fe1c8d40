import type { FileId } from "../core/base/span.ts";
import type { SourceState } from "../core/model/sources.ts";
import { MAX_TEXT } from "../core/syntax/caps.ts";
import type { ListFilesResult, ReadFileResult } from "../protocol/requests.ts";
import { fileOfUri, uriOfFile } from "./file-uri.ts";
import type { Beat } from "./scheduler.ts";
import type { ReadFile } from "./texts.ts";

/** What differs between a server on Node and one in a web worker. */
export interface Platform {
  readonly beat: Beat;
  readonly readFile: ReadFile;
  /** Documents of ours in the open folders, at most `cap`, without order. */
  listFiles(cap: number): Promise<readonly FileId[]>;
}

/** What is open at the moment. */
export interface OpenFiles {
  folders(): readonly FileId[];
  files(): readonly FileId[];
}

/** What the client says it can do for the server, beside LSP. */
export interface ClientFiles {
  readonly canRead: boolean;
  readonly canList: boolean;
  readFile(uri: string): Promise<ReadFileResult>;
  listFiles(cap: number): Promise<ListFilesResult>;
}

/** Makes the platform once the client is known. */
export type MakePlatform = (client: ClientFiles, open: OpenFiles) => Platform;

/** Reads through the client; a client that can't read leaves every file missing. */
export async function readThroughClient(client: ClientFiles, file: FileId): Promise<SourceState> {
  if (!client.canRead) return { state: "missing" };
  try {
    const answer = await client.readFile(uriOfFile(file));
    if (answer.state === "text") return { state: "text", text: answer.text };
    // A blank text longer than core takes gives the finding that a text of this size gives.
    if (answer.state === "too-large") return { state: "text", text: " ".repeat(MAX_TEXT + 1) };
    return { state: "missing" };
  } catch {
    // A client that fails on a file has told the user why; for the document the file is not there.
    return { state: "missing" };
  }
}

export async function listThroughClient(client: ClientFiles, cap: number): Promise<readonly FileId[]> {
  if (!client.canList) return [];
  const answer = await client.listFiles(cap);
  return answer.uris.slice(0, cap).map(fileOfUri);
}
