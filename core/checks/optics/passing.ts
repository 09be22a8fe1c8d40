import type { OriginId } from "../../base/origin-id.ts";
import type { Task } from "../../base/task.ts";
import type { MoveAxis, ResolvedMove } from "../../motion/resolved-move.ts";
import { createPictureRoom } from "../../motion/picture-motion.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { anyKeyAt, segmentKeys, type Anchor } from "../anchor.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { isLost } from "../path/path-check.ts";
import { isWithoutView } from "../picture/no-view.ts";
import type { Exceeding } from "../scan/scan.ts";
import { lookAt, type LookedAt } from "./looked-at.ts";
import type { PassingRow } from "./passing-watch.ts";

/** A stretch of time in which what the eye rests on moves faster than a bound, and what is known of its worst instant. */
export interface Passing extends Exceeding {
  readonly subject: LookedAt;
  /** In the middle of the worst instant, with its rates; overwritten by the next look. */
  readonly instant: Instant;
}

/**
 * Spans in which what the eye rests on moves by more than `bound` [captured px/s], told one by one to `tell`. Where no
 * picture can be told, as where a path is lost or the pupil stands on the target, other checks say so.
 */
export function* passingFaster(
  context: CheckContext,
  of: PassingRow,
  bound: number,
  tell: (passing: Passing) => Finding,
): Task<readonly Finding[]> {
  const { move, trajectory } = context;
  const room = createPictureRoom();
  const scan = yield* context.scan("passing");
  const out: Finding[] = [];
  for (const span of yield* scan.above(of, bound)) {
    if (isLost(trajectory, span) || isWithoutView(trajectory, span)) continue;
    const instant = scan.look(span.worst);
    out.push(tell({ ...span, instant, subject: lookAt(move, instant, room, { target: -1, speed: 0, pace: 0 }) }));
    yield;
  }
  return out;
}

/** Where a passing is told: the key whose time one would change, with its segment and the subject. */
export function placeOf(
  move: ResolvedMove,
  { from, to, worst, subject }: Passing,
): Pick<Finding, "origin" | "related" | "key" | "time" | "peak"> & { readonly anchor: Anchor } {
  const anchor = anyKeyAt(move, worst);
  const target: OriginId = move.targets[subject.target]?.origin ?? 0;
  return {
    anchor,
    origin: anchor.origin,
    related: [{ origin: target, note: "target" }, ...segmentKeys(move, anchor)],
    key: move.keys[anchor.key].label,
    time: { from, to },
    peak: worst,
  };
}

/** What passes, as a message names it. */
export function passingName({ targets }: ResolvedMove, { target }: LookedAt): Finding["facts"] {
  const name = targets[target]?.name;
  return name === undefined ? { what: "The far background" } : { what: name, target: name };
}

/** [rad/s], [m/s] Slower than this an axis does not count as moving. */
const AT_REST = { rotary: 1e-6, linear: 1e-6 } as const;

/**
 * The axis that moves the picture most likely: of pan and tilt the one that turns faster; where neither does, the fastest
 * turning axis of all, the tables included, else the fastest linear one. `undefined` when all rest.
 */
export function passingAxis({ rig, axes }: ResolvedMove, { speed }: Instant): number | undefined {
  const fastest = (fits: (axis: MoveAxis) => boolean): number | undefined => {
    let best: number | undefined;
    axes.forEach((axis, idx) => {
      const [here, most] = [Math.abs(speed[idx]), best === undefined ? AT_REST[axis.type] : Math.abs(speed[best])];
      if (fits(axis) && here > most) best = idx;
    });
    return best;
  };
  const head: readonly number[] = rig.head ? [rig.head.pan, rig.head.tilt] : [];
  return (
    fastest(({ joint }) => head.includes(joint)) ??
    fastest(({ type }) => type === "rotary") ??
    fastest(({ type }) => type === "linear")
  );
}
