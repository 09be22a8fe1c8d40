import type { FileId } from "../base/span.ts";
import type { CheckedDocument } from "./checked-document.ts";

/** The same answer with other ids of all files, for a machine that has them elsewhere. */
export function renameFiles(document: CheckedDocument, idOf: (file: FileId) => FileId): CheckedDocument {
  const renamed = <T extends { readonly file: FileId }>(one: T): T => ({ ...one, file: idOf(one.file) });
  return {
    ...renamed(document),
    findings: document.findings.map((finding) => ({
      ...renamed(finding),
      related: finding.related.map(renamed),
      cures: finding.cures.map(renamed),
    })),
    inputs: document.inputs.map(idOf),
  };
}
