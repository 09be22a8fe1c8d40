import type { FindingCode } from "../../base/finding-code.ts";
import type { Approach } from "../../space/approaches.ts";
import { FLOOR } from "../../space/pairs.ts";
import type { Space } from "../../space/space.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";

/**
 * An approach as a finding: at the key that leads there, with both bodies, how near they come and the shortest way between
 * them.
 */
export function approachFinding(
  { move }: Pick<CheckContext, "move">,
  code: FindingCode,
  { bodies }: Space,
  approach: Approach,
  limit: number,
): Finding {
  const part = bodies[approach.a];
  const other = approach.b === FLOOR ? undefined : bodies[approach.b];
  const anchor = keyAt(move, [...move.keys.keys()], approach.t);
  const key = move.keys[anchor.key];
  return {
    code,
    severity: "error",
    origin: key.camera?.origin || anchor.origin,
    related: [
      { origin: other?.origin ?? move.uses.set, note: other ? "target" : "see" },
      { origin: part.origin, note: "part" },
      { origin: move.toleranceOrigin, note: "tolerance" },
      ...segmentKeys(move, anchor),
    ],
    key: key.label,
    time: { from: approach.from, to: approach.to },
    peak: approach.t,
    measured: approach.distance,
    limit,
    dimension: "length",
    evidence: approach.distance <= 0 ? "sampled" : "bracketed",
    facts: { part: part.name, target: other?.name ?? "the floor" },
    segment: { from: approach.onA, to: approach.onB },
  };
}
