import { runToEnd } from "../../core/base/task.ts";
import type { Severity } from "../../core/base/finding-code.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { indexLines, type LineIndex } from "../../core/syntax/lines.ts";
import { describeFindings } from "../finding-lines.ts";
import { findDocuments, sourcesFor, type Given } from "../documents.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";
import type { Outcome } from "../failure.ts";
import type { Paint } from "../paint.ts";

export interface CheckOptions {
  readonly format: "text" | "json";
  /** Warnings count as errors do for the exit code. */
  readonly strict?: boolean;
  readonly paint: Paint;
}

interface Checked {
  readonly given: Given;
  readonly analysis: Analysis;
  readonly findings: readonly PlacedFinding[];
  readonly text: string;
}

/** `movewright check`: all findings of all documents. Exit code 1 when one of them is an error, or if strict a warning. */
export function checkCommand(paths: readonly string[], options: CheckOptions): Outcome {
  const documents = findDocuments(paths.length === 0 ? ["."] : paths);
  const sources = sourcesFor(documents);
  const memo = createMemo();
  const checked = documents.map((given): Checked => {
    const analysis = runToEnd(analyse(given.file, sources, memo));
    const state = sources.read(given.file);
    const text = state.state === "text" ? state.text : "";
    const findings = findingsOf(analysis).sort(byPlace);
    return { given, analysis, findings, text };
  });
  const failing: readonly Severity[] = options.strict === true ? ["error", "warning"] : ["error"];
  const hasErrors = checked.some(({ findings }) => findings.some(({ severity }) => failing.includes(severity)));
  const output = options.format === "json" ? renderAnswer(checked) : renderText(checked, options.paint);
  return { output, exit: hasErrors ? 1 : 0 };
}

const byPlace = (a: PlacedFinding, b: PlacedFinding): number => a.place.span.start - b.place.span.start;

function renderAnswer(checked: readonly Checked[]): string {
  const files = checked.map(({ given, analysis, findings, text }) => {
    const lines = indexLines(text);
    return { path: given.path, kind: analysis.kind, findings: findings.map((one) => findingAnswer(one, lines)) };
  });
  return renderJson({ version: ANSWER_VERSION, files });
}

/** A finding as the command line answers it; absent fields are left out. */
export function findingAnswer(finding: PlacedFinding, lines: LineIndex): Record<string, unknown> {
  const { code, severity, message, place, key, axis, time, value, limit, unit, allowed } = finding;
  const range = { start: lines.position(place.span.start), end: lines.position(place.span.end) };
  return { code, severity, message, range, key, axis, time, value, limit, unit, allowed };
}

function renderText(checked: readonly Checked[], paint: Paint): string {
  const lines = checked.flatMap(({ given, text, findings }) => describeFindings(given.path, text, findings, paint));
  return `${[...lines, summary(checked)].join("\n")}\n`;
}

function summary(checked: readonly Checked[]): string {
  const all = checked.flatMap(({ findings }) => findings);
  const counted = (noun: string, severities: readonly Severity[]): string[] => {
    const count = all.filter((finding) => severities.includes(finding.severity)).length;
    return count === 0 ? [] : [`${count} ${noun}${count === 1 ? "" : "s"}`];
  };
  const parts = [
    ...counted("error", ["error"]),
    ...counted("warning", ["warning"]),
    ...counted("note", ["information", "hint"]),
  ];
  const documents = `${checked.length} document${checked.length === 1 ? "" : "s"} checked`;
  return `${documents}: ${parts.length === 0 ? "no findings" : parts.join(", ")}`;
}
