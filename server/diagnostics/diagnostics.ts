import { findingsOf } from "../../core/checks/analysis.ts";
import type { Diagnostic } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { Known } from "../analyses.ts";
import { hash } from "../fingerprint.ts";
import type { FileMarks } from "../review/marks.ts";
import { PROGRAM_VERSION, type Session } from "../session.ts";
import { toDiagnostics } from "../to-lsp.ts";
import { newWords } from "./shown-diagnostic.ts";

/** Findings that the base did not have, in the text that the analysis is of. */
function newIn(
  session: Session,
  marks: FileMarks,
  file: FileId,
  { analysis, texts }: Known,
): ReadonlySet<PlacedFinding> {
  const source = texts.get(file);
  const text = source?.state === "text" ? source.text : "";
  return marks.newOf(analysis, text, session.analyses.tree(file, text));
}

/** Diagnostics of one document, with the name that stands for everything they depend on. */
export interface Report {
  readonly resultId: string;
  readonly version: number | null;
  readonly whole: boolean;
  readonly items: () => Diagnostic[];
}

/**
 * The result id stands for the texts of the document and of all it uses, the settings, the program's version, how far the
 * analysis has come and what the base of a review had. Two reports with one id are equal.
 */
export function reportOf(session: Session, file: FileId, known: Known): Report {
  const { texts, settings, findingsPage } = session;
  const marks = session.marks(file);
  const extra = JSON.stringify([PROGRAM_VERSION, settings, findingsPage ?? "", known.whole, file, marks?.stamp ?? ""]);
  return {
    resultId: hash(`${extra}\n${known.fingerprint}`),
    version: texts.version(file) ?? null,
    whole: known.whole,
    items() {
      const document = texts.document(file);
      if (!document) return [];
      const findings = findingsOf(known.analysis);
      const isNew = marks && newIn(session, marks, file, known);
      return toDiagnostics(texts, document, findings, findingsPage, settings["problems.limit"], (finding) =>
        marks && isNew?.has(finding) ? newWords(marks) : "",
      );
    },
  };
}
