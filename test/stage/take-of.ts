import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { sampleTake } from "../../core/motion/sample.ts";
import { packTake } from "../../protocol/codec.ts";
import type { StageFinding, StageTake } from "../../protocol/stage.ts";
import { stageTake } from "../../server/service/stage/stage-take.ts";

/**
 * A take as the server sends it, of a move that a test made.
 *
 * @param count Samples, evenly over the move; as many as the server takes when it is not given.
 */
export function takeOf(move: ResolvedMove, more: Partial<StageTake> = {}, count?: number): StageTake {
  const trajectory = runToEnd(planTrajectory(move));
  const solved = { move, trajectory, origins: { place: () => undefined }, findings: [], stale: false };
  const take = runToEnd(stageTake("file:///pottery/test.move.yaml", 1, solved, []));
  if (count === undefined) return { ...take, ...more };
  const times = Array.from({ length: count }, (_, i) => (trajectory.duration * i) / (count - 1));
  return { ...take, samples: packTake(runToEnd(sampleTake(trajectory, times))), ...more };
}

export const findings: readonly StageFinding[] = [
  {
    id: 0,
    code: "axis-speed",
    severity: "error",
    message: "pan turns at 48.2 deg/s at 00:00:03:10, its limit is 40 deg/s. Give the segment 20.5 % more time.",
    axis: "pan",
    key: "turn",
    time: { from: 3.2, to: 3.7 },
  },
  {
    id: 1,
    code: "near-limit",
    severity: "information",
    message: "lift uses 93 % of its speed.",
    axis: "lift",
    time: { from: 1.1, to: 1.4 },
  },
  {
    id: 2,
    code: "unknown-field",
    severity: "warning",
    message: "`tittle` is not a field of a move; nearest is `title`.",
  },
];
