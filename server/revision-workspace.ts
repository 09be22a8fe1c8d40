import type { FileId } from "../core/base/span.ts";
import type { Connection } from "vscode-languageserver";
import { READ_REVISION_REQUEST, type ReadRevisionParams, type ReadRevisionResult } from "../protocol/stage-ghost.ts";
import { createAnalyses, type Analyses } from "./analyses.ts";
import { createEngine } from "./engine.ts";
import { uriOfFile } from "./files/file-uri.ts";
import { mayRead } from "./files/readable.ts";
import { createTexts, type Texts } from "./files/texts.ts";
import { readThroughClient, type ClientFiles } from "./platform.ts";
import type { Session } from "./session.ts";

/** The documents of a workspace as they stood at one revision, with what is known of them. It publishes no findings. */
export interface RevisionWorkspace {
  readonly revision: string;
  readonly texts: Texts;
  readonly analyses: Analyses;
  /** Files that were read as they are now, since the repository of the move does not hold them. */
  readonly elsewhere: ReadonlySet<FileId>;
  /** Why the client gave no files, in its words; `undefined` when it did. */
  refusal(): string | undefined;
}

/** Which state of which repository. */
export interface RevisionWish {
  /** Uri of a file or a folder of the repository. */
  readonly of: string;
  readonly revision: string;
  /** False for a file that is now as it was at the revision, and need not be asked for. Default: any may differ. */
  readonly mayDiffer?: (file: FileId) => boolean;
}

/** Reads files of a revision through the client, within the bounds that hold for files of now. */
export function openRevision(
  connection: Connection,
  session: Session,
  { of, revision, mayDiffer = () => true }: RevisionWish,
): RevisionWorkspace {
  const elsewhere = new Set<FileId>();
  let refusal: string | undefined;
  const open = { folders: () => session.folders, files: () => session.texts.openFiles() };
  const read = async (file: FileId, as: ReadRevisionParams["as"]): Promise<ReadRevisionResult> => {
    const params: ReadRevisionParams = { of, revision, uri: uriOfFile(file), as };
    try {
      return await connection.sendRequest<ReadRevisionResult>(READ_REVISION_REQUEST, params);
    } catch (error) {
      refusal ??= error instanceof Error ? error.message : String(error);
      throw error;
    }
  };
  const asNow = async (file: FileId) => {
    await session.texts.load([file]);
    return session.texts.read(file);
  };
  const texts = createTexts(async (file) => {
    if (!mayRead(file, open)) return { state: "outside" };
    if (!mayDiffer(file)) return asNow(file);
    let isElsewhere = false;
    const client: ClientFiles = {
      canRead: true,
      canList: false,
      async readFile(_, as) {
        const answer = await read(file, as);
        isElsewhere ||= answer.state === "elsewhere";
        return answer.state === "elsewhere" ? { state: "missing" } : answer;
      },
      listFiles: () => Promise.resolve({ uris: [] }),
    };
    const state = await readThroughClient(client, file);
    if (!isElsewhere) return state;
    const now = await asNow(file);
    if (now.state === "text" || now.state === "bytes") elsewhere.add(file);
    return now;
  });
  const failed = (file: FileId, error: unknown): void =>
    session.log(`${file} of ${revision} was set aside: ${String(error)}`);
  const analyses = createAnalyses(texts, createEngine(), { run: session.run }, failed);
  return { revision, texts, analyses, elsewhere, refusal: () => refusal };
}
