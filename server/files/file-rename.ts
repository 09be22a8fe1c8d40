import type { Connection, FileRename, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import { assetKind } from "../../core/model/asset-kind.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { ASSET_GLOB, DOCUMENT_GLOB } from "../../protocol/requests.ts";
import { folderOf } from "../client-abilities.ts";
import { guarded } from "../guard.ts";
import { meshFilesOf, movedBy, movedMeshes, movedReferences, type Moved } from "../service/names/moved-references.ts";
import type { Session } from "../session.ts";
import { toTextEdits } from "../to-lsp.ts";

/** Files whose new names matter, for the client to ask about: documents, what they name, and folders that may hold some. */
export const RENAME_FILTERS = [
  { pattern: { glob: DOCUMENT_GLOB, matches: "file" as const } },
  { pattern: { glob: ASSET_GLOB, matches: "file" as const } },
  { pattern: { glob: "**", matches: "folder" as const } },
];

/** Before files or folders get new names, all that documents and URDF files say of them is changed along. */
export function registerFileRenames(connection: Connection, session: Session): void {
  connection.workspace.onWillRenameFiles(({ files }, token) =>
    guarded("the new names of files", session.log, token, () => renameEdits(session, files)),
  );
}

async function renameEdits(session: Session, files: readonly FileRename[]): Promise<WorkspaceEdit | null> {
  const { texts } = session;
  const moved = movedBy(files.map(({ oldUri, newUri }) => ({ from: folderOf(oldUri), to: folderOf(newUri) })));
  const all = await writtenFiles(session);
  await texts.load(all);
  const changes: Record<string, TextEdit[]> = {};
  for (const file of all) {
    const document = texts.document(file);
    const edits = document ? await editsOf(session, file, document.getText(), moved) : [];
    if (!document || edits.length === 0) continue;
    changes[texts.uri(file)] = toTextEdits(document, edits);
  }
  return Object.keys(changes).length > 0 ? { changes } : null;
}

/** Files that name others. */
async function writtenFiles(session: Session): Promise<readonly FileId[]> {
  const assets = await session.assets.all();
  const listed = [...(await session.files.all()), ...assets.filter((file) => assetKind(file) === "urdf")];
  return [...new Set([...listed, ...session.texts.openFiles()])];
}

async function editsOf(session: Session, file: FileId, text: string, moved: Moved) {
  const { texts } = session;
  if (documentKind(file)) {
    const named = session.names(file);
    return named ? movedReferences(named, text, moved) : [];
  }
  if (assetKind(file) !== "urdf") return [];
  await texts.load(meshFilesOf(file, text));
  return movedMeshes(file, text, moved, (each) => ["text", "bytes"].includes(texts.read(each).state));
}
