import type { Task } from "../../base/task.ts";
import { trimmed } from "../../base/units.ts";
import { createArm, momentLeft, turnArm, writeArm, type Arm } from "../../load/arm.ts";
import { GRAVITY } from "../../load/mass-points.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import type { Peak } from "../scan/peak.ts";
import { scanMove, watchOf, type Exceeding } from "../scan/scan.ts";
import { BALANCE_TOLERANCE, LOAD_SLACK } from "../thresholds.ts";
import { armShare } from "./load-watch.ts";
import { liftValues, worstOfLift } from "./lift-sweep.ts";

/** `balance`: what the counterweight leaves of the load's moment, in the move and over the whole range of its axis. */
export const balance: Check = {
  code: "balance",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const arm = createArm(move);
    if (!arm) return [];
    const { mass, tolerance, massOrigin, toleranceOrigin } = arm.weight;
    const limit = tolerance ?? BALANCE_TOLERANCE;
    const values = liftValues(move, arm);
    const played = worstAbove(yield* (yield* context.scan("loads")).above("arm", limit + LOAD_SLACK));
    poseAtStart(trajectory, arm);
    const lifted = worstOfLift(arm, values, mass);
    const worst = lifted && lifted.value > (played?.value ?? 0) ? lifted : played;
    if (!worst || worst.value <= limit + LOAD_SLACK) return [];
    const isPlayed = worst === played;
    const { joints } = move.rig;
    const place = isPlayed ? playedAt(trajectory, arm, worst.t) : liftedTo(arm, worst.t);
    poseAtStart(trajectory, arm);
    const better = midWeight(arm, values);
    const isCure = better !== undefined && (yield* holds(trajectory, arm, values, better, limit));
    const written = `${trimmed(better ?? 0, 2)} kg`;
    return [
      {
        code: "balance",
        severity: "warning",
        origin: move.uses.rig,
        related: [
          { origin: massOrigin, note: "mass" },
          { origin: toleranceOrigin, note: "limit" },
        ],
        axis: joints[arm.pivot].name,
        ...(isPlayed ? { time: { from: worst.t, to: worst.t }, peak: worst.t } : {}),
        measured: worst.value,
        limit,
        dimension: "share",
        evidence: "sampled",
        facts: {
          ...place,
          leader: joints[arm.leader].name,
          leaderType: joints[arm.leader].type,
          mass,
          ...(better === undefined ? {} : { better, ...leftAtEnds(arm, values, better) }),
          cured: isCure ? "yes" : "no",
        },
        ...(isCure
          ? { sets: [{ origin: massOrigin, value: written, title: `Set the counterweight's \`mass\` to ${written}` }] }
          : {}),
      },
    ];
  },
};

/** The worst of the instants at which too much is left. */
function worstAbove(spans: readonly Exceeding[]): Peak | undefined {
  return spans.reduce<Peak | undefined>((worst, span) => {
    return worst && span.value <= worst.value ? worst : { t: span.worst, value: span.value };
  }, undefined);
}

const poseAtStart = (trajectory: Trajectory, arm: Arm): void => poseAt(trajectory, arm, 0);

function poseAt(trajectory: Trajectory, arm: Arm, t: number): void {
  const instant = trajectory.createInstant();
  trajectory.poseAt(t, instant);
  writeArm(arm, trajectory.move, instant.value);
}

interface Place {
  readonly value: number;
  readonly moment: number;
  /** The same as a mass in the counterweight's place, its arm level [kg]; Infinity where that is on the axis. */
  readonly kilograms: number;
}

function placeOf({ moment, values, leader, weight }: Arm): Place {
  const left = Math.abs(momentLeft(moment, weight.mass));
  return { value: values[leader], moment: left, kilograms: left / (GRAVITY * moment.radius) };
}

function playedAt(trajectory: Trajectory, arm: Arm, t: number): Place {
  poseAt(trajectory, arm, t);
  return placeOf(arm);
}

function liftedTo(arm: Arm, value: number): Place {
  turnArm(arm, value);
  return placeOf(arm);
}

/** The mass that balances the arm in the middle of its lift, to 10 g; undefined where none does. */
function midWeight(arm: Arm, values: readonly number[]): number | undefined {
  if (values.length > 0) turnArm(arm, (values[0] + values[values.length - 1]) / 2);
  const { load, perWeight, radius } = arm.moment;
  // With the counterweight straight over or under its axis no mass does.
  if (Math.abs(perWeight) <= 1e-3 * GRAVITY * radius) return undefined;
  const mass = Math.round((-load / perWeight) * 100) / 100;
  return 0 < mass ? mass : undefined;
}

/** Whether a counterweight of `mass` kg keeps to the limit throughout. */
function* holds(
  trajectory: Trajectory,
  arm: Arm,
  values: readonly number[],
  mass: number,
  limit: number,
): Task<boolean> {
  const lifted = worstOfLift(arm, values, mass);
  if (lifted && lifted.value > limit + LOAD_SLACK) return false;
  const { move } = trajectory;
  const scan = yield* scanMove(trajectory, [watchOf(armShare(move, mass), move, "poses")]);
  return (yield* scan.above("measured", limit + LOAD_SLACK)).length === 0;
}

/** What a counterweight of `mass` kg leaves at the ends of the lift [N·m], and as masses in its place [kg]. */
function leftAtEnds(arm: Arm, values: readonly number[], mass: number): Record<string, number> {
  if (values.length === 0) return {};
  const [low, high] = [values[0], values[values.length - 1]].map((value) => {
    turnArm(arm, value);
    return { moment: Math.abs(momentLeft(arm.moment, mass)), kilograms: GRAVITY * arm.moment.radius };
  });
  return {
    low: low.moment,
    lowMass: low.moment / low.kilograms,
    high: high.moment,
    highMass: high.moment / high.kilograms,
  };
}
