import { trimmed } from "../base/units.ts";
import type { ReportedDocument, ReportedFinding } from "./check-report.ts";

/** Digits after the point of a figure. */
const DIGITS = 6;

/** What was measured in a document, by name: how near a move comes to its limits, and of each finding value and limit. */
export function documentProperties({ kind, move, findings }: ReportedDocument): (readonly [string, string])[] {
  const worst = move?.worst;
  const near = worst?.share === undefined ? "unbounded" : trimmed(worst.share, DIGITS);
  return [
    // The readers' schemas want one property at least.
    ["kind", kind ?? "document"],
    ...(move ? ([["duration [s]", trimmed(move.duration, DIGITS)]] as const) : []),
    ...(worst ? ([["nearest limit", `${worst.of} of ${worst.axis}`], ["nearest limit, share", near], ["nearest limit, time [s]", trimmed(worst.at, DIGITS)]] as const) : []), // prettier-ignore
    ...findings.flatMap(figuresOf),
  ];
}

function figuresOf({ code, element, value, limit, unit = "" }: ReportedFinding): (readonly [string, string])[] {
  if (value === undefined || limit === undefined) return [];
  const name = `${code} ${element}`;
  const written = (figure: number): string => `${trimmed(figure, DIGITS)} ${unit}`.trim();
  return [
    [`${name}: measured`, written(value)],
    [`${name}: limit`, written(limit)],
    [`${name}: off by`, written(Math.abs(value - limit))],
  ];
}
