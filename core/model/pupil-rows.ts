import { pupilTable, type PupilRow } from "../lens/pupil-table.ts";
import type { PupilTable, ResolvedOptics } from "../lens/resolved-optics.ts";
import type { Span } from "../base/span.ts";
import type { Stated } from "./declared.ts";
import { report } from "./report.ts";
import type { Scope } from "./resolution.ts";

/** More rows than a lens is measured at; the table is their grid, so that it goes with their square. */
const MOST_ROWS = 200;

/** A row as it is read: a pair, or a map with one `focus` in two forms. */
type PairRow = Stated<readonly Stated<number>[]>;
type MapRow = Stated<{
  readonly focal?: Stated<number>;
  readonly focus?: Stated<number | "infinity">;
  readonly at?: Stated<number>;
}>;
/** What a lens states of its pupil, as far as it could be read. */
type StatedPupil = Stated<number> | Stated<readonly (PairRow | MapRow | undefined)[]>;

interface PlacedRow extends PupilRow {
  readonly span: Span;
}

/** The pupil of a lens; a finding, and nothing, where its rows are no table. */
export function pupilOf(
  scope: Scope,
  { pupil }: { readonly pupil?: StatedPupil },
  focal: ResolvedOptics["focal"],
): PupilTable | undefined {
  if (!pupil) return undefined;
  if (typeof pupil.value === "number") return pupilTable([{ focal: focal.low, at: pupil.value }]);
  const stated = (pupil as Exclude<StatedPupil, Stated<number>>).value;
  if (MOST_ROWS < stated.length) {
    report(scope, "too-large", pupil.span, `\`pupil\` has ${stated.length} rows; at most ${MOST_ROWS} are read.`);
    return undefined;
  }
  const rows = stated.flatMap((row) => rowOf(scope, row, focal) ?? []);
  // A row that could not be read has its own finding.
  if (rows.length < stated.length) return undefined;
  if (rows.length === 0) {
    report(scope, "bad-number", pupil.span, "`pupil` has no rows: give one or more, shortest focal length first.");
    return undefined;
  }
  const fault = rows.findIndex((row, index) => faultAfter(rows.slice(0, index), row) !== undefined);
  if (fault < 0) return pupilTable([...rows].sort((a, b) => a.focal - b.focal || (a.near ?? 0) - (b.near ?? 0)));
  report(scope, "bad-number", rows[fault].span, faultAfter(rows.slice(0, fault), rows[fault])!);
  return undefined;
}

function rowOf(scope: Scope, row: PairRow | MapRow | undefined, lens: ResolvedOptics["focal"]): PlacedRow | undefined {
  if (!row) return undefined;
  const { value, span } = row;
  if (isPair(value)) return { focal: value[0].value, at: value[1].value, span };
  const { focal, focus, at } = value;
  if (!focal && lens.low < lens.high) {
    report(
      scope,
      "missing-field",
      span,
      "A row of `pupil` of a zoom lacks `focal`, the focal length that it holds for.",
    );
    return undefined;
  }
  // A focus that could not be read must not pass for a row of every distance.
  if (!at || ("focus" in value && !focus)) return undefined;
  const near = focus && (focus.value === "infinity" ? 0 : 1 / focus.value);
  return { focal: focal?.value ?? lens.low, ...(near === undefined ? {} : { near }), at: at.value, span };
}

function isPair(value: PairRow["value"] | MapRow["value"]): value is PairRow["value"] {
  return Array.isArray(value);
}

/** Why a row cannot follow those before it, or `undefined`. */
function faultAfter(rows: readonly PlacedRow[], row: PlacedRow): string | undefined {
  const before = rows.filter((one) => one.focal === row.focal);
  const last = rows[rows.length - 1];
  if (last && row.focal < last.focal) return "The rows of `pupil` go from the shortest focal length to the longest.";
  if (before.length === 0) return undefined;
  if (row.near === undefined || before[0].near === undefined) {
    return row.near === before[0].near
      ? "`pupil` has two rows for this focal length: give each its `focus`, or one row only."
      : "Of the rows of `pupil` for one focal length either each has a `focus`, or there is one row only.";
  }
  if (before.some((one) => sameNearness(one.near!, row.near!)))
    return "`pupil` has two rows for this focal length and focus: give one.";
  const [first, second] = [...before.map((one) => one.near!), row.near];
  const turns = 1 < before.length && (second - first) * (row.near - last.near!) < 0;
  return turns ? "The rows of `pupil` for one focal length go on from near to far, or from far to near." : undefined;
}

/** Nearer to each other than a hair at arm's length, two distances are one. */
function sameNearness(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-6 * Math.max(a, b);
}
