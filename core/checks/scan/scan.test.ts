import assert from "node:assert/strict";
import { runToEnd } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import { scanMove, scanTimes, watchOf, type Exceeding } from "./scan.ts";

/** A trajectory of which only the time is asked. */
function clock(knots: readonly number[]): Trajectory {
  const instant = { t: 0 } as Instant;
  const trajectory: Partial<Trajectory> = {
    move: {} as ResolvedMove,
    knots,
    duration: knots[knots.length - 1],
    intervals: knots.slice(1).map(() => ({})),
    createInstant: () => instant,
    at: (t, out) => void (out.t = t),
    poseAt: (t, out) => void (out.t = t),
  };
  return trajectory as Trajectory;
}

function above(knots: readonly number[], value: (t: number) => number, bound: number): Exceeding[] {
  const scan = runToEnd(scanMove(clock(knots), [watchOf(({ t }) => value(t), {} as ResolvedMove, "poses")]));
  return runToEnd(scan.above("measured", bound));
}

const near = (actual: number, expected: number): void =>
  assert.ok(Math.abs(actual - expected) < 1e-5, `${actual} is not ${expected}`);

describe("scan of a move", () => {
  it("looks at every knot, and at five instants between two of them at least", () => {
    const times = scanTimes(clock([0, 0.01, 3]));
    for (const knot of [0, 0.01, 3]) assert.ok(times.includes(knot));
    assert.ok(times.filter((t) => t < 0.01).length >= 5);
    for (let i = 1; i < times.length; i++) assert.ok(times[i - 1] < times[i] && times[i] - times[i - 1] <= 0.1 + 1e-12);
  });

  it("finds where a parabola is above a bound: 4 - (t - 3)^2 over 3 from 2 to 4, highest at 3", () => {
    const [span, ...rest] = above([0, 6], (t) => 4 - (t - 3) ** 2, 3);
    assert.equal(rest.length, 0);
    near(span.from, 2);
    near(span.to, 4);
    near(span.worst, 3);
    near(span.value, 4);
  });

  it("finds a peak that hides between two samples", () => {
    // Samples stand 0.1 s apart; the peak at 2.05 is 0.02 s wide above the bound: 1 - (t - 2.05)^2 > 0.9999.
    const [span, ...rest] = above([0, 4], (t) => 1 - (t - 2.05) ** 2, 0.9999);
    assert.equal(rest.length, 0);
    near(span.from, 2.04);
    near(span.to, 2.06);
    near(span.value, 1);
  });

  it("tells a plateau by its beginning and two spans as two", () => {
    const step = (t: number): number => ((1 <= t && t <= 2) || 3 <= t ? 5 : 0);
    const spans = above([0, 1, 2, 3, 4], step, 1);
    assert.equal(spans.length, 2);
    near(spans[0].from, 1);
    near(spans[0].to, 2);
    near(spans[0].worst, 1);
    near(spans[1].from, 3);
    near(spans[1].to, 4);
  });

  it("keeps what is infinite and gives nothing where nothing is above", () => {
    const [span] = above([0, 2], (t) => (t > 1.5 ? Infinity : -Infinity), 0);
    near(span.from, 1.5);
    assert.equal(span.value, Infinity);
    assert.deepEqual(
      above([0, 2], () => -Infinity, 0),
      [],
    );
    assert.equal(above([0], () => 1, 0).length, 1);
  });
});
