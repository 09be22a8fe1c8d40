import { LIMITS } from "../base/limits.ts";
import { RATES } from "../base/rate.ts";
import type { FileId } from "../base/span.ts";
import { findingsOf, type Analysis } from "../checks/analysis.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import { renderMessage } from "../checks/message.ts";
import { internalError } from "../checks/run-checks.ts";
import { documentKind } from "../model/document-kind.ts";
import { worstLimit } from "../motion/peaks.ts";
import { elementOf } from "../review/element.ts";
import type { Tree } from "../syntax/tree.ts";
import type { CheckedDocument, CheckedFinding, CheckedMove } from "./checked-document.ts";
import type { TextBook } from "./text-book.ts";

/** What `check` tells of a document that was analysed; `texts` are those that it was analysed from. */
export function checkedDocument(analysis: Analysis, texts: TextBook): CheckedDocument {
  const { file, kind, inputs } = analysis;
  const found = findingsOf(analysis);
  const tree = found.length > 0 ? texts.tree(file) : undefined;
  const findings = found
    .sort((a, b) => a.place.span.start - b.place.span.start)
    .map((finding) => checkedFinding(finding, tree, texts));
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
    element: "document",
    cures: [],
  };
  const kind = documentKind(file)?.kind;
  return { file, ...(kind ? { kind } : {}), findings: [finding], inputs: [file] };
}

function checkedFinding(finding: PlacedFinding, tree: Tree | undefined, texts: TextBook): CheckedFinding {
  const { code, severity, message, place, time, peak } = finding;
  return {
    code,
    severity,
    message,
    file: place.file,
    range: texts.range(place.file, place.span),
    related: finding.related.map(({ place: { file, span }, message }) => ({
      file,
      range: texts.range(file, span),
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
    element: elementOf(finding, tree),
    cures: finding.cures.map(({ title, file, edits }) => ({
      title,
      file,
      edits: edits.map(({ span, text }) => ({ range: texts.range(file, span), text })),
    })),
  };
}

/** A field that is there: one without a value would be another object after JSON. */
function stated<T, K extends keyof T>(from: T, name: K): Partial<Pick<T, K>> {
  return from[name] === undefined ? {} : ({ [name]: from[name] } as Pick<T, K>);
}

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
