import type { Diagnostic } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { View } from "../service/view.ts";
import type { Session } from "../session.ts";
import { toDiagnostic } from "../to-lsp.ts";

/** A finding of a document as it stands among the diagnostics that the client has: it knows it again by every word. */
export function shownDiagnostic(
  session: Session,
  { file, text, tree, analysis }: View,
  document: TextDocument,
  finding: PlacedFinding,
): Diagnostic {
  const marks = session.marks(file);
  const isNew = marks?.newOf(analysis, text, tree).has(finding) === true;
  return toDiagnostic(session.texts, document, finding, session.findingsPage, isNew ? newWords(marks) : "");
}

/** What stands behind the message of a finding that the base of the review did not have. */
export const newWords = ({ label }: { readonly label: string }): string => ` (new since ${label})`;
