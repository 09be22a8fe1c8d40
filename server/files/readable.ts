import { resolveReference } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import type { SourceState } from "../../core/model/sources.ts";
import { bytesThroughClient, readThroughClient, type ClientFiles, type OpenFiles } from "../platform.ts";

/**
 * True for a file that may be read through the client: one in an open folder, or, where an open document is in none, one in
 * the folder that holds that document's folder, so that `moves/` may refer to `kit/` beside it. A text may name any file and
 * any address, and a client may be able to read all of them.
 */
export function mayRead(file: FileId, open: OpenFiles): boolean {
  const folders = open.folders();
  const alone = open.files().filter((each) => !folders.some((folder) => isUnder(each, folder)));
  return [...folders, ...alone.map(homeOf)].some((folder) => isUnder(file, folder));
}

/** Reads a text, or what is known of a mesh, through the client. */
export async function readWithin(client: ClientFiles, file: FileId, open: OpenFiles): Promise<SourceState> {
  return mayRead(file, open) ? readThroughClient(client, file) : { state: "outside" };
}

/** The same for bytes. */
export async function bytesWithin(
  client: ClientFiles,
  file: FileId,
  open: OpenFiles,
  cap: number,
): Promise<Uint8Array | undefined> {
  return mayRead(file, open) ? bytesThroughClient(client, file, cap) : undefined;
}

/** The folder above the document's own, or its own where that stands at the top. */
function homeOf(file: FileId): FileId {
  const folder = resolveReference(file, ".");
  const above = resolveReference(file, "..");
  const isTop = resolveReference(`${above}/x`, "..") === above;
  return isTop ? folder : above;
}

/** Steps up and down a path are taken before it is compared. */
const isUnder = (file: FileId, folder: FileId): boolean =>
  resolveReference(file, baseOf(file)).startsWith(folder.endsWith("/") ? folder : `${folder}/`);

const baseOf = (file: FileId): string => `./${file.slice(file.lastIndexOf("/") + 1)}`;
