import { findingsOf } from "../../core/checks/analysis.ts";
import type { Diagnostic } from "vscode-languageserver";
import type { FileId } from "../../core/base/span.ts";
import type { Known } from "../analyses.ts";
import { hash } from "../fingerprint.ts";
import { PROGRAM_VERSION, type Session } from "../session.ts";
import { toDiagnostics } from "../to-lsp.ts";

/** Diagnostics of one document, with the name that stands for everything they depend on. */
export interface Report {
  readonly resultId: string;
  readonly version: number | null;
  readonly whole: boolean;
  readonly items: () => Diagnostic[];
}

/**
 * The result id stands for the texts of the document and of all it uses, the settings, the program's version and how far
 * the analysis has come. Two reports with one id are equal.
 */
export function reportOf(session: Session, file: FileId, known: Known): Report {
  const { texts, settings, findingsPage } = session;
  const extra = JSON.stringify([PROGRAM_VERSION, settings, findingsPage ?? "", known.whole, file]);
  return {
    resultId: hash(`${extra}\n${known.fingerprint}`),
    version: texts.version(file) ?? null,
    whole: known.whole,
    items() {
      const document = texts.document(file);
      return document
        ? toDiagnostics(texts, document, findingsOf(known.analysis), findingsPage, settings["problems.limit"])
        : [];
    },
  };
}
