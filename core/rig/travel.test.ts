import assert from "node:assert/strict";
import { joint, rigOf } from "../../test/support/rigs.ts";
import { compileRig } from "./chain.ts";
import { travel } from "./travel.ts";

describe("travel", () => {
  const follows = (leader: number, ratio: number, offset: number): object => ({
    role: "follows",
    follows: { leader, ratio, offset },
  });

  it("is narrowed by the ranges of followers, of followers' followers too, and says by which", () => {
    const limits = travel(
      compileRig(
        rigOf([
          joint("lift", "rotary", [0, 1, 0], undefined, { range: { low: -1, high: 1 } }),
          // value = -2 lift + 0.5 in -0.5..3: lift in -1.25..0.5.
          joint("level", "rotary", [0, 1, 0], undefined, { ...follows(0, -2, 0.5), range: { low: -0.5, high: 3 } }),
          // value = 1 + 0.5 level = 1.25 - lift in 0..2: lift in -0.75..1.25.
          joint("arm", "linear", [1, 0, 0], undefined, { ...follows(1, 0.5, 1), range: { low: 0, high: 2 } }),
          joint("free", "rotary", [0, 0, 1]),
        ]),
      ),
    );
    assert.deepEqual([limits.low[0], limits.high[0]], [-0.75, 0.5]);
    assert.deepEqual([limits.lowBy[0], limits.highBy[0]], [2, 1]);
    assert.deepEqual([limits.low[3], limits.high[3], limits.lowBy[3]], [-Infinity, Infinity, -1]);
    assert.deepEqual([limits.low[1], limits.high[1]], [-Infinity, Infinity]);
  });
});
