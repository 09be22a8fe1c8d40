import { sharedNodes } from "./time-nodes.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";

/**
 * Why a move has no fastest timing: `moving-target`: its path depends on played time; `unsolved`: some instant has no
 * solution; `unbounded`: an axis turns without bound; `nothing-limited`: no axis with a limit moves.
 */
export type FastestRefusal = "moving-target" | "unsolved" | "unbounded" | "nothing-limited";

export interface Refused {
  readonly status: FastestRefusal;
  readonly reason: string;
}

/** Instants looked at for a solution between the knots of a move. */
const LOOKED = 400;

/** What forbids to time a path anew, whatever its limits; undefined for a path that may be run through at any speed. */
export function refusalOf(trajectory: Trajectory): Refused | undefined {
  const { move } = trajectory;
  const target = movingTarget(move);
  if (target !== undefined) {
    const reason =
      `"${target}" moves by itself, so the path of the axes depends on when it is run through. ` +
      `Stretch the move, or its segments, instead.`;
    return { status: "moving-target", reason };
  }
  return unsolved(trajectory) ?? unbounded(trajectory);
}

/** A target with a course of its own that the axes follow. */
function movingTarget(move: ResolvedMove): string | undefined {
  const used = move.keys.flatMap(({ aim, camera, path }) => [
    ...(aim?.kind === "target" ? [aim.target] : []),
    ...(camera?.kind === "offset" ? [camera.from] : []),
    ...(path?.kind === "arc-about" ? [path.target] : []),
  ]);
  const moving = used.find((index) => {
    const places = move.targets[index].follow ?? [];
    return places.some(({ to }) => to.some((x, axis) => x !== places[0].to[axis]));
  });
  return moving === undefined ? undefined : move.targets[moving].name;
}

function unsolved(trajectory: Trajectory): Refused | undefined {
  const { move } = trajectory;
  const key = trajectory.keys.findIndex((one) => one.status !== "converged" || one.branchMiss !== undefined);
  if (0 <= key) {
    return { status: "unsolved", reason: `The camera does not get to key "${move.keys[key].label}".` };
  }
  const instant = trajectory.createInstant();
  if (trajectory.duration === 0) return undefined;
  for (const t of sharedNodes(trajectory.knots, LOOKED)) {
    trajectory.at(t, instant);
    if (instant.status !== "converged")
      return { status: "unsolved", reason: `The aim has no solution at ${shown(t)} s.` };
  }
  return undefined;
}

function unbounded(trajectory: Trajectory): Refused | undefined {
  for (const [index, axis] of trajectory.axes.entries()) {
    const { low, high } = trajectory.extremes(index, 1);
    const worst = [low, high].find((extreme) => extreme.evidence === "unbounded");
    if (worst) {
      return {
        status: "unbounded",
        reason: `"${axis.name}" turns without bound at ${shown(worst.t)} s: no speed keeps its limits.`,
      };
    }
  }
  return undefined;
}

function shown(t: number): string {
  return String(Number(t.toFixed(3)));
}
