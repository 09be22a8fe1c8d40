import type { Task } from "../../base/task.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { approachOf } from "../../repeat/approach.ts";
import { againstFirst, againstPlan } from "../../repeat/pass-variances.ts";
import { createSensitivity } from "../../repeat/sensitivity.ts";
import { quickRadius, radiusHolding, spreadOf, type Spread } from "../../repeat/spread.ts";
import type { CheckContext } from "../check.ts";
import { passCount } from "../passes/last-pass.ts";
import { passScan, SHARE, type PassScan } from "../passes/pass-scan.ts";
import { sampledExtremes, type SampledExtremes } from "../scan/sampled-extremes.ts";
import type { Asked, Measured } from "./measured.ts";

const UNSEEN = "the target is behind the camera";

/** How far the last pass may be off the first, at 95 % [captured px]; 0 for a move of one pass and a rig that states nothing. */
export const passError: Measured = {
  *extremes(context, asked) {
    const count = passCount(context.move);
    const known = (yield* passScan(context)) ?? NOTHING;
    const variances = againstFirst(known.axes, known.ways, count);
    const spread = spreads(context, known, asked.subject, variances);
    return yield* extremes(context, asked, spread, quickRadius);
  },
  evidence: "sampled",
  without: UNSEEN,
};

/** How far the last pass may be off what is drawn, at 95 %, the play of its axes included [captured px]. */
export const planError: Measured = {
  *extremes(context, asked) {
    const known = (yield* passScan(context)) ?? NOTHING;
    const { axes, ways } = known;
    const approaches = axes.map(({ axis }) => approachOf(context.trajectory, axis));
    const play = (t: number): readonly number[] => axes.map(({ backlash }, k) => (backlash / 2) * approaches[k](t));
    const spread = spreads(context, known, asked.subject, againstPlan(axes, ways, passCount(context.move)), play);
    return yield* extremes(context, asked, spread, (each) => radiusHolding(each, SHARE, ROUGH));
  },
  evidence: "sampled",
  without: UNSEEN,
};

type Known = Pick<PassScan, "axes" | "ways">;

/** Of a rig that states nothing of how it repeats. */
const NOTHING: Known = { axes: [], ways: new Float64Array() };

/** To what the radius is known while its extremes are looked for. */
const ROUGH = 1e-5;

/** The lowest and highest radius, found by a quick one; what is told of them is exact. */
function* extremes(
  { trajectory }: CheckContext,
  { from, to }: Asked,
  spread: (instant: Instant) => Spread,
  quick: (spread: Spread) => number,
): Task<SampledExtremes> {
  const found = yield* sampledExtremes(trajectory, (instant) => quick(spread(instant)), from, to, "poses");
  const instant = trajectory.createInstant();
  const exact = ({ t }: { readonly t: number }): { t: number; value: number } => {
    trajectory.poseAt(t, instant);
    return { t, value: radiusHolding(spread(instant), SHARE) };
  };
  return { ...found, low: exact(found.low), high: exact(found.high) };
}

/**
 * The spread of a target's picture in an instant.
 *
 * @param means Of each axis's error at a time [m or rad]; absent for none.
 */
function spreads(
  { move }: CheckContext,
  { axes }: Known,
  target: number,
  variances: ArrayLike<number>,
  means?: (t: number) => readonly number[],
): (instant: Instant) => Spread {
  const indices = axes.map(({ axis }) => axis);
  const sensitivity = createSensitivity(move, indices);
  const columns = new Float64Array(2 * axes.length);
  return (instant) => {
    // Without an axis that errs there is nothing to look through, but what has no picture has no error either.
    if (Number.isNaN(instant.framing[2 * target]) || !sensitivity(instant, target, columns)) return NOWHERE;
    const offset: [number, number] = [0, 0];
    means?.(instant.t).forEach((mean, k) => {
      offset[0] += mean * columns[2 * k];
      offset[1] += mean * columns[2 * k + 1];
    });
    return spreadOf(columns, variances, offset);
  };
}

const NOWHERE: Spread = { major: NaN, minor: NaN, angle: NaN, along: NaN, across: NaN };
