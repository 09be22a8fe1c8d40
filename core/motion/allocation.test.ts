import assert from "node:assert/strict";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { randomMove } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";

describe("evaluating a trajectory", () => {
  it("allocates nothing", () => {
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
      // Compilers settle first.
      run();
      run();
      collect();
      const before = process.memoryUsage().heapUsed;
      run();
      const grown = process.memoryUsage().heapUsed - before;
      // One number on the heap a call would be 320 kB.
      assert.ok(grown < 100_000, `seed ${seed}: ${grown} bytes in ${calls} calls`);
    }
  });
});
