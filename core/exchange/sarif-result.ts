import {
  BREAKS,
  breakingMessage,
  identity,
  type BreakingChange,
  type CheckReport,
  type ReportedFinding,
} from "./check-report.ts";
import { fingerprintsOf } from "./fingerprints.ts";
import { artifactLocation, physicalLocation, region, relatedLocation } from "./sarif-places.ts";
import { levelOf } from "./sarif-rules.ts";
import { messageText } from "./sarif-text.ts";

/** Places of a result that a code host takes, its own one included. */
export const MOST_LOCATIONS = 1_000;

/** A result before it is told: its rule, and how it is numbered among equal ones. */
export interface Numbered<T> {
  readonly of: T;
  readonly ruleIndex: number;
  readonly ordinal: number;
}

type Json = Record<string, unknown>;

/** A finding as a result. */
export function findingResult(
  { of: finding, ruleIndex, ordinal }: Numbered<ReportedFinding>,
  report: CheckReport,
): Json {
  const { code, severity, message, file, range, element, related } = finding;
  const name = `${report.nameOf(file)} ${identity(finding)}`;
  const fixes = fixesOf(finding, report);
  return {
    ruleId: code,
    ruleIndex,
    kind: "fail",
    level: levelOf(severity),
    message: { text: messageText(message) },
    locations: [{ physicalLocation: physicalLocation(file, range, report), logicalLocations: logical(element) }],
    ...relatedOf(related, report),
    partialFingerprints: fingerprintsOf(name, ordinal),
    suppressions: suppressionsOf(finding, report),
    ...baselineState(finding, report),
    ...(fixes.length === 0 ? {} : { fixes }),
    properties: figuresOf(finding),
  };
}

/** A changed line that breaks moves as a result: what is found in them are its related places. */
export function breakingResult(
  { of: change, ruleIndex, ordinal }: Numbered<BreakingChange>,
  report: CheckReport,
): Json {
  const { file, range, severity, findings } = change;
  const related = findings.map((one) => ({ file: one.file, range: one.range, message: `${one.code}: ${one.message}` }));
  return {
    ruleId: BREAKS,
    ruleIndex,
    kind: "fail",
    level: severity,
    message: { text: messageText(breakingMessage(change, report)) },
    locations: [{ physicalLocation: physicalLocation(file, range, report) }],
    ...relatedOf(related, report),
    partialFingerprints: fingerprintsOf(`${report.nameOf(file)} ${BREAKS}`, ordinal),
    suppressions: [],
    ...(report.since === undefined ? {} : { baselineState: "new" }),
  };
}

const logical = (element: string): Json[] => [{ fullyQualifiedName: messageText(element), kind: "member" }];

function relatedOf(related: ReportedFinding["related"], report: CheckReport): Json {
  if (related.length === 0) return {};
  return { relatedLocations: related.slice(0, MOST_LOCATIONS - 1).map((one, i) => relatedLocation(one, i, report)) };
}

/** What a document allows, and what the baseline file lists. */
function suppressionsOf({ allowed, known }: ReportedFinding, { baseline }: CheckReport): Json[] {
  if (allowed !== undefined) {
    return [{ kind: "inSource", status: "accepted", justification: messageText(allowed) }];
  }
  if (known !== "baseline") return [];
  return [
    { kind: "external", status: "accepted", justification: messageText(`Listed in ${baseline ?? "the baseline"}.`) },
  ];
}

function baselineState({ known }: ReportedFinding, { since }: CheckReport): Json {
  if (since === undefined) return {};
  return { baselineState: known === "base" ? "unchanged" : "new" };
}

/** Each cure by itself, as the changes of one file's text. */
function fixesOf({ cures }: ReportedFinding, report: CheckReport): Json[] {
  return cures
    .filter(({ edits }) => edits.length > 0)
    .map(({ title, file, edits }) => ({
      description: { text: messageText(title) },
      artifactChanges: [
        {
          artifactLocation: artifactLocation(file, report),
          replacements: edits.map(({ range, text }) => ({ deletedRegion: region(range), insertedContent: { text } })),
        },
      ],
    }));
}

/** Figures for programs: `value` and `limit` in `unit`, times in seconds of the played move. */
function figuresOf(finding: ReportedFinding): Json {
  const { element, key, axis, time, peak, value, limit, unit, pass } = finding;
  return { element, key, axis, time, peak, value, limit, unit, pass };
}
