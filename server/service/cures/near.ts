import type { FindingCode } from "../../../core/base/finding-code.ts";
import { displayUnit } from "../../../core/base/units.ts";
import type { Finding, PlacedFinding } from "../../../core/checks/finding.ts";

/** What tells findings of one code apart, as both a check alone and a whole analysis give it. */
export interface Near {
  readonly code: FindingCode;
  readonly axis?: string;
  /** Names of what is too near to what; empty for findings of other kinds. */
  readonly part: string;
  readonly target: string;
  readonly time: { readonly from: number; readonly to: number };
  /**
   * What lacks to the limit, in the finding's own unit [m, px, deg/s, ..]; of what has no measure, how long it lasts [s]. More
   * than 0.
   */
  readonly missing: number;
  /** In the finding's own unit; NaN where nothing can be measured. */
  readonly measured: number;
  readonly limit: number;
  readonly unit: string;
  readonly pass?: string;
}

/** Between two things, a part of the rig and something else. */
export const OF_SPACE: ReadonlySet<FindingCode> = new Set<FindingCode>([
  "clearance",
  "self-clearance",
  "floor",
  "in-view",
  "people",
]);

/** Placed findings at a time of the take, allowed ones too. */
export function nearsOf(findings: readonly PlacedFinding[]): readonly Near[] {
  return findings.flatMap(({ code, axis, bodies, time, value = NaN, limit, unit = "", pass }): Near[] => {
    if (!time || (OF_SPACE.has(code) && (!bodies || unit === "m/s"))) return [];
    return [nearOf({ code, axis, ...(bodies ?? NOTHING), time, measured: value, limit: limit ?? 0, unit, pass })];
  });
}

/** The same of findings as data, in the units in which they would be shown. */
export function nearsOfData(findings: readonly Finding[], pass: string | undefined): readonly Near[] {
  return findings.flatMap(({ code, axis, facts, time, measured = NaN, limit = 0, dimension }) => {
    if (!time) return [];
    const shown = dimension ? displayUnit(dimension) : { unit: "", size: 1 };
    const unit = Number.isNaN(measured) ? "" : shown.unit;
    const finite = Number.isFinite(measured) ? measured / shown.size : NaN;
    const { part, target } = facts;
    const bodies = typeof part === "string" && typeof target === "string" ? { part, target } : NOTHING;
    return [nearOf({ code, axis, ...bodies, time, measured: finite, limit: limit / shown.size, unit, pass })];
  });
}

const NOTHING = { part: "", target: "" } as const;

function nearOf(near: Omit<Near, "missing">): Near {
  const { code, time, measured, limit } = near;
  if (code === "in-view") return { ...near, missing: measured };
  if (OF_SPACE.has(code)) return { ...near, missing: limit - measured };
  const lacks = Math.abs(measured - limit);
  return { ...near, missing: Number.isFinite(lacks) ? lacks : time.to - time.from };
}

/** True where both have a measure, or neither: else what is missing of them cannot be compared. */
export const isComparable = (one: Near, other: Near): boolean =>
  Number.isFinite(one.measured) === Number.isFinite(other.measured);

/** What passes the picture is one thing, whichever axis turns it; a table that seems to turn backwards is told by its rate. */
const isOfPicture = ({ code, unit }: Near): boolean => code === "blur" || (code === "judder" && !unit.includes("/"));

/** Of the same thing: another part of the rig may be the nearest to it, but for parts that meet each other. */
export function isAlike(one: Near, other: Near): boolean {
  if (one.code !== other.code || one.pass !== other.pass || one.target !== other.target) return false;
  if (one.code === "self-clearance") return one.part === other.part;
  if (OF_SPACE.has(one.code)) return true;
  // A move may expect several things of one axis, and a motor has several limits.
  if (one.code === "expect" && Math.abs(one.limit - other.limit) > 1e-9 * Math.abs(one.limit)) return false;
  if ((one.code === "expect" || one.code === "focus-speed") && one.unit !== other.unit) return false;
  return isOfPicture(one) ? isOfPicture(other) : one.axis === other.axis;
}

export const meets = (one: Near["time"], other: Near["time"]): boolean => one.from <= other.to && other.from <= one.to;
