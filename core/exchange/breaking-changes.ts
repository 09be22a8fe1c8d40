import type { FileId } from "../base/span.ts";
import type { LineRange } from "./changed-lines.ts";
import { counts, type BreakingChange, type ReportedDocument, type ReportedFinding } from "./check-report.ts";
import type { TextRange } from "./checked-document.ts";

/** A field that says something else than before. */
export interface ChangedField {
  /** The change in words: `` `joints.lift.limits.speed` was 0.5 m/s and is 0.4 m/s ``. */
  readonly words: string;
  readonly range: TextRange;
}

/** A file that is another one than before. */
export interface ChangedFile {
  readonly lines: readonly LineRange[];
  /** Empty where it says the same, or can't be read as a document. */
  readonly fields: readonly ChangedField[];
  /** True for another layout, order or comment. */
  readonly isMeaningSame: boolean;
}

interface Cause {
  readonly file: FileId;
  readonly range: TextRange;
  readonly change?: string;
}

/**
 * Changed lines that give new errors and warnings to documents beside them: a limit that was lowered, an object that was
 * moved. A finding that stands on a changed line of its own document tells itself. Where a related place of a finding, such
 * as its limit, is a changed field, that field is the cause; else all that changed in the files that its document uses.
 */
export function breakingChanges(
  documents: readonly ReportedDocument[],
  changed: ReadonlyMap<FileId, ChangedFile>,
): BreakingChange[] {
  const groups = new Map<string, { cause: Cause; findings: ReportedFinding[] }>();
  for (const document of documents) {
    for (const finding of document.findings) {
      for (const cause of causesOf(finding, document, changed)) {
        const name = `${cause.file}\n${cause.range.start.line}:${cause.range.start.character}`;
        const group = groups.get(name) ?? { cause, findings: [] };
        groups.set(name, { ...group, findings: [...group.findings, finding] });
      }
    }
  }
  return [...groups.values()]
    .map(({ cause, findings }) => ({
      ...cause,
      severity: findings.some(({ severity }) => severity === "error") ? ("error" as const) : ("warning" as const),
      breaks: [...new Set(findings.map(({ file }) => file))].sort(),
      findings,
    }))
    .sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.range.start.line - b.range.start.line));
}

function causesOf(
  finding: ReportedFinding,
  { file, inputs }: ReportedDocument,
  changed: ReadonlyMap<FileId, ChangedFile>,
): Cause[] {
  if (!counts(finding) || (finding.severity !== "error" && finding.severity !== "warning")) return [];
  const own = changed.get(file);
  if (own?.lines.some((lines) => touches(lines, finding.range))) return [];
  const others = [...new Set(inputs)].filter((input) => input !== file && changed.get(input)?.isMeaningSame === false);
  const named = others.flatMap((input) => namedCauses(finding, input, changed.get(input)!));
  if (named.length > 0) return named;
  return own?.isMeaningSame === false ? [] : others.map((input) => wholeCause(input, changed.get(input)!));
}

/** The changed fields of a file that the finding itself leads to. */
function namedCauses({ related }: ReportedFinding, file: FileId, { fields }: ChangedFile): Cause[] {
  const places = related.filter((one) => one.file === file);
  const named = fields.filter(({ range }) => places.some((place) => overlaps(range, place.range)));
  return named.map(({ range, words }) => ({ file, range, change: words }));
}

/** All that changed in a file, told at its first change. */
function wholeCause(file: FileId, { fields, lines }: ChangedFile): Cause {
  if (fields.length === 0) return { file, range: lineStart(lines[0]?.start ?? 0) };
  const [first, ...more] = [...fields].sort((a, b) => order(a.range, b.range));
  const rest = more.length === 0 ? "" : `, and ${more.length} more change${more.length === 1 ? "" : "s"} below`;
  return { file, range: first.range, change: `${first.words}${rest}` };
}

const lineStart = (line: number): TextRange => ({ start: { line, character: 0 }, end: { line, character: 0 } });

const order = (a: TextRange, b: TextRange): number =>
  a.start.line - b.start.line || a.start.character - b.start.character;

const touches = (lines: LineRange, { start, end }: TextRange): boolean =>
  lines.start <= end.line && start.line < lines.end;

/** Whether two ranges have a character in common, or one stands in the other. */
function overlaps(a: TextRange, b: TextRange): boolean {
  const isBefore = (one: TextRange["start"], other: TextRange["start"]): boolean =>
    one.line < other.line || (one.line === other.line && one.character < other.character);
  return !isBefore(a.end, b.start) && !isBefore(b.end, a.start);
}
