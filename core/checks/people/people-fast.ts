import { ARM_REACH } from "../../base/separation.ts";
import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { createGap, measureGap } from "../../solid/gap.ts";
import { createPlaced, placeBodies } from "../../space/space.ts";
import { keyAt } from "../anchor.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { REDUCED_SPEED } from "../thresholds.ts";
import { fastSpans, type FastSpan } from "./fast-spans.ts";
import type { PeopleSpace } from "./people-space.ts";

/** Points of the rig or the camera above the reduced speed near a person: one finding a person and stretch of time. */
export function* peopleFast(context: CheckContext, around: PeopleSpace): Task<readonly Finding[]> {
  const near = context.move.tolerance.people ?? ARM_REACH;
  const spans = yield* fastSpans(around, context.trajectory, near, context.seen);
  return spans.map((span) => fastFinding(context, around, near, span));
}

function fastFinding(
  { move, trajectory }: CheckContext,
  { space }: PeopleSpace,
  near: number,
  span: FastSpan,
): Finding {
  const placed = createPlaced(space);
  const instant = trajectory.createInstant();
  trajectory.poseAt(span.t, instant);
  placed.values.set(instant.value);
  placeBodies(space, placed);
  const [a, b] = [span.body, span.person];
  const { rotations: r, positions: p } = placed;
  const gap = createGap();
  measureGap(space.bodies[a].convex, r[a], p[a], space.bodies[b].convex, r[b], p[b], gap);
  const anchor = keyAt(move, [...move.keys.keys()], span.t);
  const share = slowerShare(move, span.speed);
  const person = space.bodies[b];
  return {
    code: "people",
    severity: "warning",
    origin: anchor.origin,
    related: [
      { origin: person.origin, note: "target" },
      { origin: move.toleranceOrigin, note: "tolerance" },
    ],
    key: move.keys[anchor.key].label,
    time: { from: span.from, to: span.to },
    peak: span.t,
    measured: span.speed,
    limit: REDUCED_SPEED,
    dimension: "length-speed",
    evidence: "sampled",
    facts: {
      what: "fast",
      part: space.bodies[a].name,
      target: person.name,
      distance: gap.distance,
      near,
      speed: 0 < share ? percent(share) : "",
    },
    ...(0 < share ? { adds: [{ field: "speed", value: percent(share), beside: move.uses.rig }] } : {}),
    segment: { from: vec(gap.from), to: vec(gap.to) },
  };
}

/**
 * The `speed` of the whole move at which the fastest point keeps to the reduced speed: whole percents. 0 where there is none:
 * below one percent, and where a target goes on in its own time, so that the move played slower is another one.
 */
function slowerShare({ speed: written, targets }: ResolvedMove, speed: number): number {
  if (targets.some(({ follow }) => follow)) return 0;
  return Math.floor((100 * written * REDUCED_SPEED) / speed + 1e-9) / 100;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

const vec = (from: Float64Array): readonly [number, number, number] => [from[0], from[1], from[2]];
