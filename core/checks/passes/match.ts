import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { againstFirst } from "../../repeat/pass-variances.ts";
import { spreadOf } from "../../repeat/spread.ts";
import { keyAt } from "../anchor.ts";
import type { Check } from "../check.ts";
import type { Finding, SetValue } from "../finding.ts";
import { percent } from "../figures.ts";
import { subjectOf } from "../picture/subject.ts";
import { MATCH_SLACK } from "../thresholds.ts";
import { lastPassError, passAt, passCount } from "./last-pass.ts";
import { passScan, type PassScan } from "./pass-scan.ts";

/** `match` of passes: the last pass that the move takes may be off the first by more than its tolerance. */
export const match: Check = {
  code: "match",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const limit = move.tolerance.match;
    const error = yield* lastPassError(context);
    if (!error || !(error.p95 > limit + MATCH_SLACK)) return [];
    const scan = yield* passScan(context);
    if (!scan) return [];
    const last = passCount(move);
    const first = firstBeyond(scan, limit, last);
    yield;
    const causes = causesOf(scan, error.t, last);
    const pass = move.passes[passAt(move, first)];
    const instant = trajectory.createInstant();
    trajectory.poseAt(error.t, instant);
    const subject = subjectOf(move, instant);
    const worst = move.axes[scan.axes[causes[0].k].axis];
    return [
      {
        code: "match",
        severity: "warning",
        origin: pass.times > 1 ? pass.timesOrigin || pass.origin : pass.origin,
        related: [
          { origin: worst.repeat?.origin ?? 0, note: "repeat" },
          { origin: move.toleranceOrigin, note: "tolerance" },
          { origin: subject.origin, note: "target" },
        ],
        key: move.keys[keyAt(move, [...move.keys.keys()], error.t).key].label,
        axis: worst.name,
        time: { from: error.t, to: error.t },
        peak: error.t,
        measured: error.p95,
        limit,
        dimension: "pixels",
        evidence: "sampled",
        facts: {
          of: "passes",
          target: subject.name,
          last,
          pass: move.passes[move.passes.length - 1].name,
          sigma: error.sigma,
          good: first - 1,
          alone: scan.worst(againstFirst(scan.axes, new Float64Array(scan.axes.length), 2))?.p95 ?? 0,
          causes: causes.map(({ k, share }) => `${move.axes[scan.axes[k].axis].name} ${percent(share)}`).join(", "),
        },
        sets: fewerTimes(move, first - 1),
      },
    ];
  },
};

/** The first pass that may be off pass 1 by more than `limit`, of 2 to `last`, which is. */
function firstBeyond(scan: PassScan, limit: number, last: number): number {
  const variances = (n: number): Float64Array => againstFirst(scan.axes, scan.ways, n);
  const isBeyond = (n: number): boolean => (scan.worst(variances(n))?.p95 ?? 0) > limit + MATCH_SLACK;
  // What was looked at tells it but for a pass or two; those are looked at between the samples too.
  let [lo, hi] = [1, last];
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (scan.near(variances(mid)) > limit) hi = mid;
    else lo = mid;
  }
  while (hi < last && !isBeyond(hi)) hi++;
  while (2 < hi && isBeyond(hi - 1)) hi--;
  return hi;
}

/** Less than this share of the variance is not told. */
const TOLD_SHARE = 0.01;

/** What each axis has of the variance in the direction in which the passes spread most, the largest first. */
function causesOf(scan: PassScan, t: number, n: number): readonly { readonly k: number; readonly share: number }[] {
  const { axes, ways } = scan;
  const variances = againstFirst(axes, ways, n);
  const columns = scan.columnsAt(t);
  const { major, angle } = spreadOf(columns, variances);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const shares = axes.map((_, k) => ({
    k,
    share: (variances[k] * (c * columns[2 * k] + s * columns[2 * k + 1]) ** 2) / major ** 2,
  }));
  const sorted = shares.sort((a, b) => b.share - a.share);
  return sorted.filter(({ share }, i) => i === 0 || share >= TOLD_SHARE);
}

/** A pass taken less often, so that no pass is beyond the tolerance; none where taking one less often is not enough. */
function fewerTimes({ passes }: ResolvedMove, good: number): readonly SetValue[] {
  const all = passCount({ passes });
  return passes.flatMap(({ name, times, timesOrigin }): readonly SetValue[] => {
    const fits = good - (all - times);
    if (timesOrigin === 0 || fits < 1) return [];
    return [{ origin: timesOrigin, value: `${fits}`, title: `Take the pass ${name} ${often(fits)}` }];
  });
}

const often = (times: number): string => (times === 1 ? "once" : `${times} times`);
