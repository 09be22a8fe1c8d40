import type { FindingCode } from "../base/finding-code.ts";
import {
  BREAKS,
  counts,
  identity,
  rankOf,
  worstFirst,
  type BreakingChange,
  type CheckReport,
  type ReportedFinding,
} from "./check-report.ts";
import { ordinals } from "./fingerprints.ts";
import { breakingResult, findingResult } from "./sarif-result.ts";
import { ROOT } from "./sarif-places.ts";
import { ruleOf } from "./sarif-rules.ts";

/** Results of a run that a code host takes; it refuses a file with more. */
export const MOST_RESULTS = 25_000;

const SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json";

export interface SarifOptions {
  /** Address of the page that explains the findings, for `helpUri`. */
  readonly helpPage?: string;
  /** Results at most; the worst are kept. */
  readonly most?: number;
}

/** One result to be: a finding, or a change that breaks moves. */
type Told =
  | { readonly change?: undefined; readonly finding: ReportedFinding; readonly ordinal: number }
  | { readonly change: BreakingChange; readonly finding: ReportedFinding; readonly ordinal: number };

/**
 * What `check` found as a log of SARIF 2.1.0 (OASIS), in one line. The same findings give the same bytes: it names no time
 * and no folder of a machine.
 */
export function renderSarif(report: CheckReport, { helpPage, most = MOST_RESULTS }: SarifOptions = {}): string {
  const all = worstFirst(toldOf(report));
  const kept = all.slice(0, most);
  const codes = [...new Set(kept.map(codeOf))].sort();
  const results = kept.map(({ change, finding, ordinal }) =>
    change
      ? breakingResult({ of: change, ruleIndex: codes.indexOf(BREAKS), ordinal }, report)
      : findingResult({ of: finding, ruleIndex: codes.indexOf(finding.code), ordinal }, report),
  );
  const log = {
    $schema: SCHEMA,
    version: "2.1.0",
    runs: [
      {
        tool: {
          driver: {
            name: "Movewright",
            version: report.version,
            semanticVersion: report.version,
            rules: codes.map((code) => ruleOf(code, helpPage)),
          },
        },
        automationDetails: { id: "movewright/check/" },
        columnKind: "utf16CodeUnits",
        originalUriBaseIds: { [ROOT]: { description: { text: "The top folder of the repository." } } },
        invocations: [invocation(report, all.length - kept.length)],
        results,
      },
    ],
  };
  return `${JSON.stringify(log)}\n`;
}

function toldOf(report: CheckReport): Told[] {
  const ordinalOf = ordinals();
  const changes = report.breaking.map((change): Told => {
    // It ranks as the worst of what it breaks.
    const [finding] = [...change.findings].sort((a, b) => rankOf(a.severity) - rankOf(b.severity));
    return { change, finding, ordinal: ordinalOf(`${change.file} ${BREAKS}`) };
  });
  const findings = report.documents.flatMap((document) =>
    document.findings.map((finding) => ({ finding, ordinal: ordinalOf(`${finding.file} ${identity(finding)}`) })),
  );
  return [...changes, ...findings];
}

const codeOf = ({ change, finding }: Told): FindingCode | typeof BREAKS => (change ? BREAKS : finding.code);

/** How the run itself went; what was left out is told here, where no host counts it. */
function invocation({ documents }: CheckReport, left: number): Record<string, unknown> {
  const failed = documents.filter(({ findings }) => findings.some(({ code }) => code === "internal-error"));
  const notifications = [
    ...(left === 0 ? [] : [notification("warning", `${left} more result${left === 1 ? "" : "s"}, none worse than these, left out: the file has as many as a host takes.`)]), // prettier-ignore
    ...(failed.length === 0 ? [] : [notification("error", `A part of the check failed in ${failed.length} of ${documents.length} documents; the results say where.`)]), // prettier-ignore
  ];
  return {
    executionSuccessful: failed.length === 0,
    ...(notifications.length === 0 ? {} : { toolExecutionNotifications: notifications }),
    properties: {
      documents: documents.length,
      counted: documents.reduce((sum, { findings }) => sum + findings.filter(counts).length, 0),
    },
  };
}

const notification = (level: "warning" | "error", text: string): Record<string, unknown> => ({
  level,
  message: { text },
});
