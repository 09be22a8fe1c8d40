import type { Task } from "../../base/task.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import type { Exceeding } from "../scan/scan.ts";
import { isLost, pathNotes } from "./path-check.ts";
import { pathWord } from "./path-kind.ts";
import { subjectOf } from "../picture/subject.ts";

/**
 * `out-of-reach`: a camera key without a solution, and spans between keys that have none although the subject is where it
 * should be; where it is not, `aim-error` says so.
 */
export const outOfReach: Check = {
  code: "out-of-reach",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const out: Finding[] = [];
    trajectory.keys.forEach((status, idx) => {
      if (status.status !== "converged" && move.keys[idx].camera) out.push(keyFinding(context, idx));
    });
    out.push(...pathFindings(context, out));
    const scan = yield* context.scan("poses");
    const missed = yield* scan.above("miss", move.tolerance.aim);
    const told = (span: Exceeding): boolean =>
      out.some(({ peak = NaN }) => span.from - TOUCH <= peak && peak <= span.to + TOUCH) ||
      isLost(trajectory, span, TOUCH) ||
      missed.some((miss) => miss.from <= span.to + TOUCH && span.from <= miss.to + TOUCH);
    const spans = (yield* scan.above("unsolved", 0.5)).filter((span) => !told(span));
    for (const span of spans) {
      const instant = scan.look(span.worst);
      out.push(spanFinding(context, span, instant.status, subjectOf(move, instant)));
    }
    return out;
  },
};

/** [s] Spans nearer to each other than this are one. */
const TOUCH = 1e-3;

/** One finding a stretch of a path that the rig cannot follow; what only goes with a key out of reach is told at that key. */
function pathFindings({ move, trajectory }: CheckContext, keys: readonly Finding[]): Finding[] {
  return pathNotes(trajectory, "out-of-reach").flatMap((note): Finding[] => {
    if (keys.some(({ peak = NaN }) => note.from - TOUCH <= peak && peak <= note.to + TOUCH)) return [];
    const key = move.keys[note.key];
    const { distance, nearest, stoppedBy } = note;
    return [
      {
        code: "out-of-reach",
        severity: "error",
        origin: key.path?.origin || key.origin,
        related: stoppedBy.map((axis) => ({
          origin: trajectory.axes[axis].origins.range || trajectory.axes[axis].origins.self,
          note: "limit",
        })),
        key: key.label,
        time: { from: note.from, to: note.to },
        peak: note.worst,
        ...(distance !== undefined && { measured: distance, limit: 0, dimension: "length" as const }),
        evidence: "sampled",
        facts: {
          what: "path",
          path: pathWord(key),
          status: note.status,
          ...(nearest ? { x: nearest[0], y: nearest[1], z: nearest[2] } : {}),
          stoppedBy: stoppedBy.map((axis) => trajectory.axes[axis].name).join(", "),
        },
      },
    ];
  });
}

function keyFinding({ move, trajectory }: CheckContext, idx: number): Finding {
  const { status, nearest, distance, stoppedBy, onTarget } = trajectory.keys[idx];
  const key = move.keys[idx];
  return {
    code: "out-of-reach",
    severity: "error",
    origin: key.camera?.origin || key.origin,
    related: (stoppedBy ?? []).map((axis) => ({
      origin: trajectory.axes[axis].origins.range || trajectory.axes[axis].origins.self,
      note: "limit",
    })),
    key: key.label,
    time: { from: key.time, to: key.time },
    peak: key.time,
    measured: distance,
    limit: distance === undefined ? undefined : 0,
    dimension: distance === undefined ? undefined : "length",
    evidence: "exact",
    facts: {
      what: onTarget === undefined ? "key" : "on-target",
      ...(onTarget === undefined ? {} : { target: move.targets[onTarget].name }),
      status,
      ...(nearest ? { x: nearest[0], y: nearest[1], z: nearest[2] } : {}),
      stoppedBy: (stoppedBy ?? []).map((axis) => trajectory.axes[axis].name).join(", "),
    },
  };
}

function spanFinding(
  { move }: CheckContext,
  { from, to, worst }: Exceeding,
  status: string,
  subject: { name: string; origin: number },
): Finding {
  const anchor = keyAt(
    move,
    move.keys.map((_, idx) => idx),
    worst,
  );
  const key = move.keys[anchor.key];
  return {
    code: "out-of-reach",
    severity: "error",
    origin: key.aim?.origin || key.camera?.origin || anchor.origin,
    related: [{ origin: subject.origin, note: "target" }, ...segmentKeys(move, anchor)],
    key: key.label,
    time: { from, to },
    peak: worst,
    evidence: "sampled",
    facts: { what: "aim", status, target: subject.name },
  };
}
