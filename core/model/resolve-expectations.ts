import { headOf } from "./read.ts";
import type { Dimension } from "../base/dimension.ts";
import { parseTime } from "../base/timecode.ts";
import { trimmed } from "../base/units.ts";
import type { ResolvedExpectation } from "../motion/resolved-move.ts";
import type { Written } from "../schema/field-types.ts";
import { resolveQuantity } from "./axis-quantity.ts";
import type { Stated } from "./declared.ts";
import type { MoveContext, MoveFields } from "./move-context.ts";
import { replacement, report } from "./report.ts";
import { resolveMeasure } from "./resolve-measure.ts";
import { originOf } from "./resolution.ts";

type Expectation = NonNullable<NonNullable<MoveFields["expect"]>["value"][number]>;

/** Times that an expectation may speak of [s, played], and how a written time is played. */
export interface ExpectedTimes {
  readonly end: number;
  readonly played: (written: number) => number;
}

/** The move's own tests. One with a fault is left out after its findings. */
export function resolveExpectations(
  context: MoveContext,
  { expect }: MoveFields,
  times: ExpectedTimes,
): readonly ResolvedExpectation[] {
  return (expect?.value ?? []).flatMap((stated) => {
    const resolved = stated && resolveExpectation(context, stated, times);
    return resolved ? [resolved] : [];
  });
}

function resolveExpectation(
  context: MoveContext,
  expectation: Expectation,
  times: ExpectedTimes,
): ResolvedExpectation | undefined {
  const { value } = expectation;
  const { scope } = context;
  const { of } = value;
  const quantity = of && resolveMeasure(context, of);
  const span = spanOf(context, expectation, times);
  const bounds = quantity && boundsOf(context, expectation, quantity.dimension);
  if (!("below" in value) && !("above" in value) && !("between" in value)) {
    report(scope, "missing-field", headOf(expectation), "An expectation gives `below`, `above` or `between`.");
  }
  if (!quantity || !bounds || !span) return undefined;
  return { of: of.value, ...quantity, ...bounds, ...span, origin: originOf(scope, expectation.span) };
}

/** The tightest of `below`, `above` and `between`, in SI; `undefined` where one of them has a fault. */
function boundsOf(
  { scope }: MoveContext,
  { value }: Expectation,
  dimension: Dimension,
): { readonly low?: number; readonly high?: number } | undefined {
  const bound = (stated: Stated<Written> | undefined, label: string): number | undefined =>
    stated && resolveQuantity(scope, stated, dimension, label);
  const most = bound(value.below, "below");
  const least = bound(value.above, "above");
  const [lowest, highest] = (value.between?.value ?? []).map((end) => bound(end, "between"));
  if (value.between && lowest !== undefined && highest !== undefined && !(lowest < highest)) {
    const message = "`between` is [lowest, highest]: its first value must be less than its second.";
    report(scope, "bad-number", value.between.span, message);
    return undefined;
  }
  const isBroken =
    ("below" in value && most === undefined) ||
    ("above" in value && least === undefined) ||
    ("between" in value && (lowest === undefined || highest === undefined));
  if (isBroken) return undefined;
  const lows = [least, lowest].filter((each) => each !== undefined);
  const highs = [most, highest].filter((each) => each !== undefined);
  if (lows.length === 0 && highs.length === 0) return undefined;
  return {
    ...(lows.length > 0 ? { low: Math.max(...lows) } : {}),
    ...(highs.length > 0 ? { high: Math.min(...highs) } : {}),
  };
}

/** [s] Nearer than this to an end of the move is at it. */
const SAME_TIME = 1e-6;

/** From when until when it speaks, within the move; `undefined` after a finding. */
function spanOf(
  { scope, rate, startFrame }: MoveContext,
  { value, span: spanOfAll }: Expectation,
  { end, played }: ExpectedTimes,
): { readonly from: number; readonly to: number } | undefined {
  const read = (label: "at" | "from" | "to", otherwise: number): number | undefined => {
    const stated = value[label];
    if (!stated) return label in value ? undefined : otherwise;
    const parsed = parseTime(stated.value, rate, startFrame);
    if (!parsed.ok) {
      const cures = parsed.cure === undefined ? {} : { cures: [replacement(scope, stated.span, parsed.cure)] };
      report(scope, parsed.code, stated.span, `\`${label}\`: ${parsed.message}.`, cures);
      return undefined;
    }
    const time = played(parsed.value);
    if (-SAME_TIME <= time && time <= end + SAME_TIME) return Math.min(Math.max(0, time), end);
    const message = `\`${label}\` is outside of the move, which lasts ${trimmed(end, 3)} s as it is played.`;
    report(scope, "bad-number", stated.span, message);
    return undefined;
  };
  if (value.at && ("from" in value || "to" in value)) {
    const message = "An expectation holds `at` one time, or `from` a time `to` another: delete one of the two.";
    report(scope, "over-determined", value.at.span, message);
    return undefined;
  }
  if (Object.hasOwn(value, "at")) {
    const at = read("at", 0);
    return at === undefined ? undefined : { from: at, to: at };
  }
  const [from, to] = [read("from", 0), read("to", end)];
  if (from === undefined || to === undefined) return undefined;
  if (from <= to) return { from, to };
  report(scope, "bad-number", (value.to ?? value.from)?.span ?? spanOfAll, "`to` is before `from`: exchange the two.");
  return undefined;
}
