import { RATES } from "../base/rate.ts";
import type { FileId } from "../base/span.ts";
import { findingsOf, type Analysis } from "../checks/analysis.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import { renderMessage } from "../checks/message.ts";
import { internalError } from "../checks/run-checks.ts";
import { documentKind } from "../model/document-kind.ts";
import { worstLimit } from "../motion/peaks.ts";
import type { CheckedDocument, CheckedFinding, CheckedMove } from "./checked-document.ts";
import type { LineBook } from "./line-book.ts";

const LIMITS = ["range", "speed", "accel", "jerk"] as const;

/** What `check` tells of a document that was analysed; `lines` are those of the texts that it was analysed from. */
export function checkedDocument(analysis: Analysis, lines: LineBook): CheckedDocument {
  const { file, kind, inputs } = analysis;
  const findings = findingsOf(analysis)
    .sort((a, b) => a.place.span.start - b.place.span.start)
    .map((finding) => checkedFinding(finding, lines));
  const move = checkedMove(analysis);
  return { file, ...(kind ? { kind } : {}), findings, ...(move ? { move } : {}), inputs };
}

/** What is told of a document on which the program itself failed. */
export function failedDocument(file: FileId, part: string, error: unknown): CheckedDocument {
  const fault = internalError(0, part, error);
  const start = { line: 0, character: 0 };
  const finding: CheckedFinding = {
    code: fault.code,
    severity: fault.severity,
    message: renderMessage(fault, { rate: RATES["25"], startFrame: 0 }),
    file,
    range: { start, end: start },
    related: [],
    element: "",
    cures: [],
  };
  const kind = documentKind(file)?.kind;
  return { file, ...(kind ? { kind } : {}), findings: [finding], inputs: [file] };
}

function checkedFinding(finding: PlacedFinding, lines: LineBook): CheckedFinding {
  const { code, severity, message, place, time, peak } = finding;
  return {
    code,
    severity,
    message,
    file: place.file,
    range: lines.range(place.file, place.span),
    related: finding.related.map(({ place: { file, span }, message }) => ({
      file,
      range: lines.range(file, span),
      message,
    })),
    ...stated(finding, "key"),
    ...stated(finding, "axis"),
    ...(time ? { time: { from: time.from + 0, to: time.to + 0 } } : {}),
    ...(peak === undefined ? {} : { peak: peak + 0 }),
    ...stated(finding, "value"),
    ...stated(finding, "limit"),
    ...stated(finding, "unit"),
    ...stated(finding, "allowed"),
    ...stated(finding, "pass"),
    element: elementOf(finding),
    cures: finding.cures.map(({ title, file, edits }) => ({
      title,
      file,
      edits: edits.map(({ span, text }) => ({ range: lines.range(file, span), text })),
    })),
  };
}

/** A field that is there: one without a value would be another object after JSON. */
function stated<T, K extends keyof T>(from: T, name: K): Partial<Pick<T, K>> {
  return from[name] === undefined ? {} : ({ [name]: from[name] } as Pick<T, K>);
}

const elementOf = ({ key, axis, pass }: PlacedFinding): string =>
  [key, axis, pass].filter((part) => part !== undefined).join(".");

function checkedMove({ move, trajectory }: Analysis): CheckedMove | undefined {
  if (!move || !trajectory) return undefined;
  const peak = worstLimit(trajectory);
  const worst = peak && {
    ...(Number.isFinite(peak.share) ? { share: peak.share } : {}),
    axis: trajectory.axes[peak.axis].name,
    of: LIMITS[peak.order],
    at: peak.t + 0,
  };
  return {
    title: move.title,
    duration: trajectory.duration,
    keys: move.keys.length,
    ...(worst ? { worst } : {}),
  };
}
