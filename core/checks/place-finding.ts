import { NO_ORIGIN, type OriginId } from "../base/origin-id.ts";
import type { Problem } from "../base/problem.ts";
import type { FileId, Place } from "../base/span.ts";
import { displayUnit } from "../base/units.ts";
import type { OriginTable } from "../model/origin-table.ts";
import type { Finding, PlacedFinding } from "./finding.ts";
import { renderMessage, renderNote, type TimeNames } from "./message.ts";

/**
 * A finding with its place in the text of `file`, its message, and its figures in the units that people read (m, deg, s,
 * px). A finding whose origin stands in another file or nowhere is placed at the start of `file`.
 */
export function placeFinding(finding: Finding, file: FileId, origins: OriginTable, names: TimeNames): PlacedFinding {
  const { dimension } = finding;
  const unit = dimension && displayUnit(dimension);
  const shown = (si: number | undefined): number | undefined =>
    si === undefined || !unit || !Number.isFinite(si) ? undefined : figure(si / unit.size);
  const own = placeIn(origins, finding.origin);
  return {
    code: finding.code,
    severity: finding.severity,
    message: renderMessage(finding, names),
    place: own?.file === file ? own : { file, span: { start: 0, end: 0 } },
    related: relatedPlaces(finding, origins, own),
    key: finding.key,
    axis: finding.axis,
    time: finding.time,
    peak: finding.peak,
    value: shown(finding.measured),
    limit: shown(finding.limit),
    unit: unit && finding.measured !== undefined ? unit.unit : undefined,
    cures: [],
    ...(typeof finding.facts.inPass === "string" ? { pass: finding.facts.inPass } : {}),
    ...(finding.segment ? { segment: finding.segment } : {}),
    ...bodiesOf(finding),
  };
}

function bodiesOf({ facts: { part, target } }: Finding): Pick<PlacedFinding, "bodies"> {
  return typeof part === "string" && typeof target === "string" ? { bodies: { part, target } } : {};
}

/** Twelve digits: what a change of units leaves in the last ones (59.99999999999999 for 60) is not the value's. */
const figure = (shown: number): number => Number(shown.toPrecision(12)) + 0;

const placeIn = (origins: OriginTable, origin: OriginId): Place | undefined =>
  origin === NO_ORIGIN ? undefined : origins.place(origin);

function relatedPlaces(finding: Finding, origins: OriginTable, own: Place | undefined): PlacedFinding["related"] {
  return finding.related.flatMap(({ origin, note }) => {
    const place = placeIn(origins, origin);
    const isOwn = place && own && place.file === own.file && place.span.start === own.span.start;
    return place && !isOwn ? [{ place, message: renderNote(note, finding) }] : [];
  });
}

/** A fault of the text as a finding. */
export function placeProblem(problem: Problem): PlacedFinding {
  const { code, severity, message, place, key, axis, related = [], cures = [] } = problem;
  return { code, severity, message, place, related, key, axis, cures };
}
