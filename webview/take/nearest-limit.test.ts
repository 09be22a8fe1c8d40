import assert from "node:assert/strict";
import { packTake } from "../../protocol/codec.ts";
import { joint, rigOf } from "../../test/support/rigs.ts";
import { axesOf } from "../../test/stage/moves.ts";
import { smallTake } from "../../test/stage/small-take.ts";
import { createMoment, momentAt } from "./moment.ts";
import { nearestCourse, nearestShare } from "./nearest-limit.ts";
import { openTake, type OpenTake } from "./open-take.ts";

/** Two sliding axes, of a range from -1 to 1 m each, with the given values and speeds of 1 m/s at most. */
function taken(
  values: readonly (readonly [number, number])[],
  speeds: readonly (readonly [number, number])[],
): OpenTake {
  const range = { low: -1, high: 1 };
  const rig = rigOf([
    joint("a", "linear", [1, 0, 0], [0, 0, 0], { range, limits: { speed: 1 } }),
    joint("b", "linear", [0, 1, 0], [0, 0, 0], { range, limits: { speed: 1 } }),
  ]);
  const n = values.length;
  const plain = (width: number): Float64Array => new Float64Array(n * width);
  const samples = packTake({
    count: n,
    t: Float64Array.from({ length: n }, (_, i) => i / (n - 1)),
    value: Float64Array.from(values.flat()),
    speed: Float64Array.from(speeds.flat()),
    accel: plain(2),
    jerk: plain(2),
    position: plain(3),
    rotation: Float64Array.from({ length: 4 * n }, (_, i) => (i % 4 === 3 ? 1 : 0)),
    focal: plain(1).fill(0.035),
    focus: plain(1).fill(2),
    share: plain(1),
    targets: plain(3),
    framing: plain(2),
    distance: plain(1),
    wanted: plain(2).fill(NaN),
  });
  return openTake(smallTake({ rig, axes: axesOf(rig, []), samples }));
}

const REST = [0, 0] as const;

describe("the axis nearest to a limit", () => {
  it("is that of the highest share, of its range or of its rates", () => {
    const open = taken([[0.5, 0.2], [0.5, 0.2], [0.5, 0.9]], [REST, [0.1, 0.8], REST]); // prettier-ignore
    const { axis, order } = nearestCourse(open);
    assert.deepEqual([...axis], [0, 1, 1]);
    assert.deepEqual([...order], [0, 1, 0]);
  });

  it("stays while another is hardly nearer, and does not where a limit is broken", () => {
    const noise = Array.from({ length: 9 }, (_, i) => [0.8, 0.8 + (i % 2 === 0 ? -0.01 : 0.01)] as const);
    const open = taken(
      [...noise, [0.8, 0.9], [0.995, 1.01]],
      Array.from({ length: 11 }, () => REST),
    );
    assert.deepEqual([...nearestCourse(open).axis], [0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1]);
    const broken = taken([[0.99, 0.98], [0.99, 1.001]], [REST, REST]); // prettier-ignore
    assert.deepEqual([...nearestCourse(broken).axis], [0, 1]);
  });

  it("has its share read between the samples", () => {
    const open = taken([[0, 0], [0.5, 0]], [[0.5, 0], [0.5, 0]]); // prettier-ignore
    const moment = createMoment(open);
    momentAt(open, 0.9, moment);
    const course = nearestCourse(open);
    assert.deepEqual([course.axis[1], course.order[1]], [0, 1]);
    assert.ok(Math.abs(nearestShare(open, course, moment) - 0.5) < 1e-6);
  });

  it("is none where no axis states a limit", () => {
    const open = taken([REST, REST], [REST, REST]);
    const bare = { ...open, stage: { ...open.stage, axes: open.stage.axes.map((one) => ({ ...one, range: undefined, limits: {} })) } }; // prettier-ignore
    const course = nearestCourse(bare);
    assert.deepEqual([...course.axis], [-1, -1]);
    assert.ok(Number.isNaN(nearestShare(bare, course, createMoment(bare))));
  });
});
