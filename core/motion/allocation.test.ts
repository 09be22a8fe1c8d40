import assert from "node:assert/strict";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { randomMove } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";

/**
 * Bytes a call. The machine boxes numbers, 16 bytes each, at calls that it does not inline: the lens is asked with four a
 * target. Of objects and lists, which an instant would need by the dozen if they were made, none is left.
 */
const ALLOWED = 512;

describe("evaluating a trajectory", () => {
  it("makes no objects", () => {
    setFlagsFromString("--expose-gc");
    const collect = runInNewContext("gc") as () => void;
    for (let seed = 0; seed < 8; seed++) {
      const { move } = randomMove(seed);
      // The lens's own check of its distortion is measured with the lens.
      const trajectory = runToEnd(planTrajectory({ ...move, optics: { ...move.optics, distortion: undefined } }));
      const instant = trajectory.createInstant();
      const calls = 20_000;
      const run = (): void => {
        for (let i = 0; i < calls; i++) trajectory.at((trajectory.duration * i) / calls, instant);
      };
      // Compilers settle after some rounds, how many hangs on the machine: the best counts.
      let least = Infinity;
      for (let round = 0; round < 12 && ALLOWED * calls < least; round++) {
        collect();
        const before = process.memoryUsage().heapUsed;
        run();
        least = Math.min(least, process.memoryUsage().heapUsed - before);
      }
      assert.ok(least <= ALLOWED * calls, `seed ${seed}: ${least} bytes in ${calls} calls`);
    }
  });
});
