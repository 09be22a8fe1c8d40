import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { fileOfUri } from "../files/file-uri.ts";
import type { Session } from "../session.ts";
import type { BaseWorkspace } from "./base-workspace.ts";
import { rest } from "./rest.ts";

/**
 * Documents below the base's folder of which something is another than at the base, in themselves or in what they use, and
 * moves that are gone. What is open comes first, moves before other documents.
 */
export async function affectedFiles(
  session: Session,
  workspace: BaseWorkspace,
  wanted: () => boolean,
): Promise<readonly FileId[]> {
  const { texts, analyses, run } = session;
  await workspace.lookAtOpen();
  const folder = fileOfUri(workspace.base.of).replace(/\/?$/, "/");
  const isOurs = (file: FileId): boolean => file.startsWith(folder) && documentKind(file) !== undefined;
  const listed = await session.files.all();
  const files = [...new Set([...texts.openFiles(), ...listed])].filter(isOurs);
  const found: FileId[] = [];
  for (const file of files) {
    await run(rest(), "background", wanted);
    if (!wanted()) return [];
    const { analysis } = analyses.current(file) ?? (await analyses.text(file));
    if (analysis.inputs.some(workspace.isChanged)) found.push(file);
  }
  const gone = workspace.onDisk().filter((file) => isOurs(file) && isMove(file) && !files.includes(file));
  return [...found.filter(isMove), ...gone, ...found.filter((file) => !isMove(file))];
}

const isMove = (file: FileId): boolean => documentKind(file)?.kind === "move";
