import type { FileId } from "../core/base/span.ts";
import type { Analysis } from "../core/checks/analysis.ts";
import type { DocumentKind } from "../core/model/document-kind.ts";

/** The analysis of a document on which the program itself failed, again and again: one finding, at its beginning. */
export function setAsideAnalysis(file: FileId, kind: DocumentKind | undefined, error: unknown): Analysis {
  const reason = error instanceof Error ? error.message : String(error);
  return {
    file,
    kind,
    textFindings: [
      {
        code: "internal-error",
        severity: "error",
        message:
          `Movewright failed on this document (${reason}) and leaves it alone until it or a file it uses changes; ` +
          `other documents are not affected. This is a fault of the program: please report it with this document.`,
        place: { file, span: { start: 0, end: 0 } },
        related: [],
        cures: [],
      },
    ],
    motionFindings: [],
    inputs: [file],
    unread: [],
  };
}
