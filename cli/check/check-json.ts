import type { CheckReport } from "../../core/exchange/check-report.ts";
import { breakingMessage } from "../../core/exchange/check-report.ts";
import { answerOf } from "../finding-answer.ts";
import { ANSWER_VERSION, renderJson } from "../json.ts";

/** The findings of each document for programs; what is said of a base or a baseline is there only where one was named. */
export function renderAnswer(report: CheckReport, pathOf: CheckReport["nameOf"]): string {
  const files = report.documents.map(({ file, kind, findings }) => ({
    path: pathOf(file),
    kind,
    findings: findings.map((one) => ({ ...answerOf(one), known: one.known })),
  }));
  const breaking = report.breaking.map((change) => ({
    path: pathOf(change.file),
    severity: change.severity,
    message: breakingMessage(change, report),
    range: change.range,
    breaks: change.breaks.map(pathOf),
  }));
  const against = report.since === undefined ? {} : { since: report.since, breaking };
  return renderJson({ version: ANSWER_VERSION, files, ...against });
}
