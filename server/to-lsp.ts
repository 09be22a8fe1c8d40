import { DiagnosticSeverity, type Diagnostic, type Location, type Range, type TextEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Severity } from "../core/base/finding-code.ts";
import type { FileId, Place, Span } from "../core/base/span.ts";
import type { TextCure } from "../core/base/problem.ts";
import type { PlacedFinding } from "../core/checks/finding.ts";
import { DIAGNOSTIC_SOURCE } from "../protocol/requests.ts";

/** Where texts of files come from when spans turn into lines. */
export interface Lines {
  uri(file: FileId): string;
  document(file: FileId): TextDocument | undefined;
}

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** A squiggle over more lines than this is cut to its first: editors slow down on very long ones. */
const LINES_CAP = 40;

/** Edits of a document's text as the protocol has them. */
export function toTextEdits(document: TextDocument, edits: TextCure["edits"]): TextEdit[] {
  return edits.map(({ span, text }) => ({ range: toRange(document, span), newText: text }));
}

export function toRange(document: TextDocument, span: Span): Range {
  return { start: document.positionAt(span.start), end: document.positionAt(Math.max(span.start, span.end)) };
}

/** A place as the editor's location; the file's beginning when its text is not known. */
export function toLocation(lines: Lines, place: Place): Location {
  const document = lines.document(place.file);
  const start = { line: 0, character: 0 };
  return { uri: lines.uri(place.file), range: document ? toRange(document, place.span) : { start, end: start } };
}

/** What a diagnostic carries back to the server when a cure is asked for. */
export interface DiagnosticData {
  readonly code: string;
  readonly key?: string;
  readonly axis?: string;
}

/** @param mark What stands behind the message. */
export function toDiagnostic(
  lines: Lines,
  document: TextDocument,
  finding: PlacedFinding,
  page: string | undefined,
  mark = "",
): Diagnostic {
  const data: DiagnosticData = { code: finding.code, key: finding.key, axis: finding.axis };
  return {
    range: cut(document, toRange(document, finding.place.span)),
    severity: SEVERITIES[finding.severity],
    code: finding.code,
    ...(page === undefined ? {} : { codeDescription: { href: `${page}#${finding.code}` } }),
    source: DIAGNOSTIC_SOURCE,
    message: `${finding.message}${mark}`,
    relatedInformation: finding.related.map((related) => ({
      location: toLocation(lines, related.place),
      message: related.message,
    })),
    data,
  };
}

/**
 * All findings of one document as diagnostics, the gravest kept when there are more than `most`; one more says how many are
 * not.
 *
 * @param markOf What stands behind the message of a finding.
 */
export function toDiagnostics(
  lines: Lines,
  document: TextDocument,
  findings: readonly PlacedFinding[],
  page: string | undefined,
  most: number,
  markOf: (finding: PlacedFinding) => string = () => "",
): Diagnostic[] {
  const all = findings.map((finding) => toDiagnostic(lines, document, finding, page, markOf(finding)));
  if (all.length <= most) return all;
  const kept = [...all].sort((one, other) => one.severity! - other.severity!).slice(0, most);
  const more: Diagnostic = {
    range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
    severity: DiagnosticSeverity.Information,
    source: DIAGNOSTIC_SOURCE,
    message: `${all.length - most} more findings are not shown here; \`movewright check\` lists all.`,
  };
  return [...kept, more];
}

function cut(document: TextDocument, range: Range): Range {
  if (range.end.line - range.start.line <= LINES_CAP) return range;
  const lineEnd = document.offsetAt({ line: range.start.line + 1, character: 0 });
  const text = document.getText().slice(document.offsetAt(range.start), lineEnd).trimEnd();
  return { start: range.start, end: document.positionAt(document.offsetAt(range.start) + text.length) };
}
