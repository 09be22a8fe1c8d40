import type { Task } from "../../base/task.ts";
import { ballast, bearableInertia, freeShare, nearestEdge } from "../../load/feet.ts";
import { writePressurePoint } from "../../load/pressure-point.ts";
import { createStand, writeStand, type Stand } from "../../load/stand.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { AddedField, Finding } from "../finding.ts";
import { scanMove, watchOf, type Exceeding, type Measure, type Scan } from "../scan/scan.ts";
import { LOAD_SLACK, SUPPORT_MARGIN } from "../thresholds.ts";
import type { LoadRow } from "./load-watch.ts";

/**
 * `tip-over`: the zero-moment point comes near the edge of the feet's polygon, or beyond. With accelerations, lean, and
 * all masses that rest on the feet.
 */
export const tipOver: Check = {
  code: "tip-over",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const stand = createStand(move);
    if (!stand) return [];
    const wanted = move.rig.support?.margin ?? SUPPORT_MARGIN;
    const scan = yield* context.scan("loads");
    const spans = yield* scan.above("tip", LOAD_SLACK - wanted);
    if (spans.length === 0) return [];
    const cures = yield* slowing(trajectory, wanted);
    return spans.map((span) => findingOf(context, scan, stand, span, wanted, cures));
  },
};

function findingOf(
  { move }: CheckContext,
  scan: Scan<LoadRow>,
  stand: Stand,
  { from, to, worst, value }: Exceeding,
  wanted: number,
  adds: readonly AddedField[],
): Finding {
  const { feet, pull, link } = stand;
  writeStand(stand, move, scan.look(worst));
  const at = new Float64Array(2);
  writePressurePoint(pull, 1, at);
  const share = -value;
  const anchor = keyAt(
    move,
    move.keys.map((_, idx) => idx),
    worst,
  );
  const { support } = move.rig;
  return {
    code: "tip-over",
    severity: share < 0 ? "error" : "warning",
    origin: anchor.origin,
    related: [{ origin: support?.marginOrigin || support?.origin || 0, note: "limit" }, ...segmentKeys(move, anchor)],
    key: move.keys[anchor.key].label,
    time: { from, to },
    peak: worst,
    measured: share,
    limit: wanted,
    dimension: "share",
    evidence: "sampled",
    facts: {
      distance: share * feet.reach[nearestEdge(feet, pull, 1)],
      x: at[0],
      y: at[1],
      of: link < 0 ? "the base" : move.rig.joints[link].name,
      ballast: ballast(pull, share, wanted),
      standing: freeShare(feet, pull, 0),
      speed: adds[0]?.value ?? "",
    },
    ...(adds.length > 0 ? { adds } : {}),
  };
}

/** Least share of its speed to which a move is slowed by a cure. */
const SLOWEST = 0.05;

/** The `speed` at which the whole move keeps what is asked; none where even standing still does not. */
function* slowing(trajectory: Trajectory, wanted: number): Task<readonly AddedField[]> {
  const { move } = trajectory;
  const stand = createStand(move);
  // Targets that move by themselves keep their own time: played slower, the move is another one.
  if (!stand || move.targets.some(({ follow }) => follow)) return [];
  const measure: Measure = (instant) => {
    writeStand(stand, move, instant);
    return -bearableInertia(stand.feet, stand.pull, wanted);
  };
  const scan = yield* scanMove(trajectory, [watchOf(measure, move, "rates")]);
  const most = Math.min(1, ...(yield* scan.above("measured", -1)).map(({ value }) => -value));
  // Accelerations go with the square of the speed. A hair less than fits, and whole per cent.
  const speed = Math.floor(100 * move.speed * Math.sqrt(most) - 1e-6) / 100;
  if (speed < SLOWEST || move.speed <= speed) return [];
  return [{ field: "speed", value: `${Math.round(100 * speed)} %`, beside: move.uses.rig }];
}
