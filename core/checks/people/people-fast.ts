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
  const share = slowerShare(span.speed);
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
      share,
    },
    ...(slowsEvenly(move) && 0 < share ? { adds: [{ field: "speed", value: `${Math.round(100 * share)} %` }] } : {}),
    segment: { from: vec(gap.from), to: vec(gap.to) },
  };
}

/** The share of the speed at which the fastest point keeps to the reduced speed: whole percents, 0 below one. */
const slowerShare = (speed: number): number => Math.floor((100 * REDUCED_SPEED) / speed + 1e-9) / 100;

/**
 * True where one key's `speed` slows all of the move and leaves its way as it is: no key says another speed, and no target
 * goes on in its own time.
 */
const slowsEvenly = ({ keys, targets }: ResolvedMove): boolean =>
  keys.every(({ speed }) => !speed) && targets.every(({ follow }) => !follow);

const vec = (from: Float64Array): readonly [number, number, number] => [from[0], from[1], from[2]];
