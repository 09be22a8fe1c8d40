import { findingsOf } from "../../core/checks/analysis.ts";
import type { CancellationToken, ProgressToken } from "vscode-languageserver";
import type { Severity } from "../../core/base/finding-code.ts";
import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { CheckWorkspaceResult } from "../../protocol/requests.ts";
import type { Session } from "../session.ts";

/** Checks all documents of the workspace, the open ones too, and counts what was found. */
export async function checkWorkspace(
  session: Session,
  token: CancellationToken,
  progress: ProgressToken | undefined,
): Promise<CheckWorkspaceResult> {
  const open = session.texts.openFiles().filter((file) => documentKind(file) !== undefined);
  const files = [...new Set<FileId>([...open, ...(await session.background.files())])];
  const counts: Record<Severity, number> = { error: 0, warning: 0, information: 0, hint: 0 };
  let documents = 0;
  await session.background.check(files, {
    token,
    progress,
    took(_, { analysis }) {
      documents += 1;
      for (const { severity } of findingsOf(analysis)) counts[severity] += 1;
    },
  });
  const { error: errors, warning: warnings, information: informations } = counts;
  return { documents, of: files.length, errors, warnings, informations, stopped: documents < files.length };
}
