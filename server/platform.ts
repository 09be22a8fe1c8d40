import type { FileId } from "../core/base/span.ts";
import type { SourceState } from "../core/model/sources.ts";
import type { ListFilesResult, ReadFileResult } from "../protocol/requests.ts";
import { fileOfUri, uriOfFile } from "./file-uri.ts";
import type { Beat } from "./scheduler.ts";
import type { ReadFile } from "./texts.ts";

/** What differs between a server on Node and one in a web worker. */
export interface Platform {
  readonly beat: Beat;
  readonly readFile: ReadFile;
  /** Documents of ours in the folders, at most `cap`, without order. */
  listFiles(folders: readonly FileId[], cap: number): Promise<readonly FileId[]>;
}

/** What the client says it can do for the server, beside LSP. */
export interface ClientFiles {
  readonly canRead: boolean;
  readonly canList: boolean;
  readFile(uri: string): Promise<ReadFileResult>;
  listFiles(cap: number): Promise<ListFilesResult>;
}

/** Makes the platform once the client is known; `folders` gives the open folders of the moment. */
export type MakePlatform = (client: ClientFiles, folders: () => readonly FileId[]) => Platform;

/** Reads through the client; a client that can't read leaves every file missing. */
export async function readThroughClient(client: ClientFiles, file: FileId): Promise<SourceState> {
  if (!client.canRead) return { state: "missing" };
  try {
    const answer = await client.readFile(uriOfFile(file));
    if (answer.state === "text") return { state: "text", text: answer.text };
    return { state: answer.state === "too-large" ? "outside" : "missing" };
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
