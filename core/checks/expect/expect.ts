import { partsOfQuantity } from "../../base/quantities.ts";
import type { Task } from "../../base/task.ts";
import type { ResolvedExpectation } from "../../motion/resolved-move.ts";
import { keyAt } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import type { Peak } from "../scan/peak.ts";
import type { SampledExtremes } from "../scan/sampled-extremes.ts";
import { EXPECT_SLACK } from "../thresholds.ts";
import { MEASURED } from "./measured-quantities.ts";

/** `expect`: the move's own tests; a failing one tells the extreme that breaks it most and its time. */
export const expectations: Check = {
  code: "expect",
  *run(context): Task<readonly Finding[]> {
    const out: Finding[] = [];
    for (const expectation of context.move.expectations ?? []) {
      const finding = yield* test(context, expectation);
      if (finding) out.push(finding);
      yield;
    }
    return out;
  },
};

interface Failure extends Peak {
  readonly bound: number;
  readonly side: "above" | "below" | "without";
}

function* test(context: CheckContext, expectation: ResolvedExpectation): Task<Finding | undefined> {
  const { move } = context;
  const { measure, of, low, high, from, to, origin, dimension } = expectation;
  const { extremes, evidence, timeless, without } = MEASURED[measure.quantity];
  const failure = worstOf(expectation, yield* extremes(context, { subject: measure.subject, from, to }));
  if (!failure) return undefined;
  const all = move.keys.map((_, idx) => idx);
  const key = move.keys[keyAt(move, all, failure.t).key];
  const isOfAxis = partsOfQuantity(measure.quantity)[0] === "AXIS";
  return {
    code: "expect",
    severity: "error",
    origin,
    related: timeless ? [] : [{ origin: key.timeOrigin || key.origin, note: "see" }],
    ...(timeless ? {} : { key: key.label, time: { from, to }, peak: failure.t }),
    ...(isOfAxis ? { axis: move.axes[measure.subject].name } : {}),
    ...(failure.side === "without" ? {} : { measured: failure.value }),
    limit: failure.bound,
    dimension,
    evidence,
    facts: {
      of,
      side: failure.side,
      ...(failure.side === "without" && without !== undefined ? { why: without } : {}),
      ...(low === undefined ? {} : { low }),
      ...(high === undefined ? {} : { high }),
      ...(0 < from || to < move.keys[move.keys.length - 1].time ? { from, to } : {}),
    },
  };
}

/** The bound that is broken most, with where; a quantity without a value breaks any. */
function worstOf(
  { low, high, from }: ResolvedExpectation,
  { low: least, high: most, without }: SampledExtremes,
): Failure | undefined {
  if (without !== undefined) return { t: without, value: NaN, bound: high ?? low ?? from, side: "without" };
  const over = high === undefined ? 0 : most.value - high;
  const under = low === undefined ? 0 : low - least.value;
  const slack = (bound: number): number => EXPECT_SLACK * Math.max(1, Math.abs(bound));
  if (high !== undefined && over >= under && over > slack(high)) return { ...most, bound: high, side: "above" };
  if (low !== undefined && under > slack(low)) return { ...least, bound: low, side: "below" };
  return undefined;
}
