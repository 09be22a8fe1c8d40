import type { FileId } from "../core/base/span.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "../core/model/mesh-file.ts";
import type { SourceState } from "../core/model/sources.ts";
import { MAX_TEXT } from "../core/syntax/caps.ts";
import { decodeBase64 } from "../core/base/base64.ts";
import type { ListedFiles, ListFilesResult, ReadFileParams, ReadFileResult } from "../protocol/requests.ts";
import { fileOfUri, uriOfFile } from "./files/file-uri.ts";
import type { Beat } from "./scheduler.ts";
import type { ReadFile } from "./files/texts.ts";

/** What differs between a server on Node and one in a web worker. */
export interface Platform {
  readonly beat: Beat;
  readonly readFile: ReadFile;
  /** All of a file, at most `cap` bytes. Never rejects; `undefined` for one that is missing, larger, or may not be read. */
  readBytes(file: FileId, cap: number): Promise<Uint8Array | undefined>;
  /** Documents of ours in the open folders, or files that they name, at most `cap`, without order. */
  listFiles(cap: number, what: ListedFiles): Promise<readonly FileId[]>;
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
  readFile(uri: string, as: NonNullable<ReadFileParams["as"]>): Promise<ReadFileResult>;
  listFiles(cap: number, what: ListedFiles): Promise<ListFilesResult>;
}

/** Makes the platform once the client is known. */
export type MakePlatform = (client: ClientFiles, open: OpenFiles) => Platform;

/** Reads through the client; a client that can't read leaves every file missing. */
export async function readThroughClient(client: ClientFiles, file: FileId): Promise<SourceState> {
  if (!client.canRead) return { state: "missing" };
  try {
    const answer = await client.readFile(uriOfFile(file), isBinaryFile(file) ? "facts" : "text");
    if (answer.state === "text") return { state: "text", text: answer.text };
    if (answer.state === "bytes") {
      const { size, stamp } = answer;
      // Core asks for what is in a file when it may not wait, so it is fetched now.
      const bytes = size <= MAX_MESH_BYTES ? await bytesThroughClient(client, file, MAX_MESH_BYTES) : undefined;
      return { state: "bytes", size, stamp, content: () => bytes };
    }
    // A blank text longer than core takes gives the finding that a text of this size gives.
    if (answer.state === "too-large") return { state: "text", text: " ".repeat(MAX_TEXT + 1) };
    return { state: "missing" };
  } catch {
    // A client that fails on a file has told the user why; for the document the file is not there.
    return { state: "missing" };
  }
}

/** The same for bytes. */
export async function bytesThroughClient(
  client: ClientFiles,
  file: FileId,
  cap: number,
): Promise<Uint8Array | undefined> {
  if (!client.canRead) return undefined;
  try {
    const answer = await client.readFile(uriOfFile(file), "bytes");
    if (answer.state !== "bytes" || answer.size > cap || answer.data === undefined) return undefined;
    return decodeBase64(answer.data);
  } catch {
    return undefined;
  }
}

export async function listThroughClient(
  client: ClientFiles,
  cap: number,
  what: ListedFiles,
): Promise<readonly FileId[]> {
  if (!client.canList) return [];
  const answer = await client.listFiles(cap, what);
  return answer.uris.slice(0, cap).map(fileOfUri);
}
