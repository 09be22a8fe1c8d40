import type { FileId, Span } from "../base/span.ts";
import { indexLines } from "../syntax/lines.ts";
import { readUrdf, type UrdfReading } from "../urdf/read-urdf.ts";
import type { UrdfProblem } from "../urdf/urdf.ts";
import { assetKind } from "./asset-kind.ts";
import type { Stated } from "./declared.ts";
import { report } from "./report.ts";
import { readInput, reportUnopened, type Scope } from "./resolution.ts";

/** A URDF file as read, kept by its text. */
export interface UrdfFile {
  readonly kind: "urdf";
  readonly file: FileId;
  readonly text: string;
  readonly reading: UrdfReading;
}

/** Most findings of one file at its reference: the rest follows from the first ones as a rule. */
const MOST_PROBLEMS = 20;

/** The file that a rig names, or `undefined` after a finding; one that nobody has read yet gives none. */
export function openUrdf(scope: Scope, reference: Stated<string>, file: FileId): UrdfFile | undefined {
  const { resolution } = scope;
  if (assetKind(file) !== "urdf") {
    resolution.inputs.add(file);
    const message = `\`${reference.value}\` is no URDF file by its name; \`NAME.urdf\` is expected.`;
    report(scope, "wrong-kind", reference.span, message);
    return undefined;
  }
  const source = readInput(resolution, file);
  if (source.state !== "text") {
    reportUnopened(scope, reference, source, file);
    return undefined;
  }
  const kept = resolution.memo.get(file);
  if (kept?.kind === "urdf" && kept.text === source.text) return kept;
  const read: UrdfFile = { kind: "urdf", file, text: source.text, reading: readUrdf(source.text) };
  resolution.memo.set(file, read);
  return read;
}

/** Where findings about a URDF file go: to its reference in the rig, its own place in words and as a related one. */
export interface UrdfReporter {
  readonly scope: Scope;
  readonly reference: Stated<string>;
  readonly urdf: UrdfFile;
}

/** Findings of the file; true when an error is among them. */
export function reportUrdf(to: UrdfReporter, problems: readonly UrdfProblem[]): boolean {
  for (const { code, severity, span, message } of problems.slice(0, MOST_PROBLEMS)) {
    reportAt(to, code, span, message, severity);
  }
  if (problems.length > MOST_PROBLEMS) {
    const rest = problems.slice(MOST_PROBLEMS);
    const more = `The file has ${rest.length} more findings, which are not shown.`;
    const severity = rest.some((problem) => problem.severity === "error") ? "error" : "warning";
    reportAt(to, "too-large", rest[0].span, more, severity);
  }
  return problems.some(({ severity }) => severity === "error");
}

export function reportAt(
  { scope, reference, urdf: { file, text } }: UrdfReporter,
  code: UrdfProblem["code"],
  span: Span,
  message: string,
  severity: UrdfProblem["severity"] = "error",
): void {
  const { line, character } = indexLines(text).position(span.start);
  const where = `\`${reference.value}\`, line ${line + 1}, column ${character + 1}`;
  const related = [{ place: { file, span: { start: span.start, end: span.end } }, message }];
  report(scope, code, reference.span, `${where}: ${message}`, { severity, related });
}
