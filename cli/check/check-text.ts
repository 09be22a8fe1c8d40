import { plainWords } from "../../core/base/plain-words.ts";
import {
  BREAKS,
  breakingMessage,
  counts,
  type CheckReport,
  type ReportedFinding,
} from "../../core/exchange/check-report.ts";
import { countedFindings } from "../../core/exchange/counted-findings.ts";
import { standing } from "../../core/exchange/reported-line.ts";
import type { Paint } from "../paint.ts";

/** One line a finding and one that counts them. Files are named by `pathOf`. */
export function renderText(report: CheckReport, pathOf: CheckReport["nameOf"], paint: Paint): string {
  const named = { nameOf: (file: string) => plainWords(pathOf(file)) };
  const changes = report.breaking.map((change) => {
    const { file, range, severity } = change;
    return lineOf(
      { path: pathOf(file), range, severity, code: BREAKS, message: breakingMessage(change, named) },
      paint,
    );
  });
  const findings = report.documents.flatMap(({ file, findings: all }) =>
    all.map((one) => lineOf({ ...one, path: pathOf(file), note: standing(one) }, paint)),
  );
  return `${[...changes, ...findings, summary(report)].join("\n")}\n`;
}

interface Line extends Pick<ReportedFinding, "range" | "severity" | "message"> {
  readonly path: string;
  readonly code: string;
  readonly note?: string;
}

function lineOf({ path, range, severity, code, message, note = "" }: Line, paint: Paint): string {
  const style = severity === "error" || severity === "warning" ? severity : "quiet";
  const reason = note === "" ? "" : paint("quiet", plainWords(note));
  const label = `${paint(style, severity)} ${paint("strong", code)}`;
  const { line, character } = range.start;
  return `${plainWords(path)}:${line + 1}:${character + 1}: ${label} ${plainWords(message)}${reason}`;
}

function summary({ documents }: CheckReport): string {
  const all = documents.flatMap(({ findings }) => findings);
  const known = all.filter((one) => one.known !== undefined).length;
  const counted = countedFindings(all.filter((one) => counts(one) || one.known === undefined));
  const checked = `${documents.length} document${documents.length === 1 ? "" : "s"} checked`;
  return `${checked}: ${counted === "" ? "no findings" : counted}${known === 0 ? "" : `; ${known} known`}`;
}
