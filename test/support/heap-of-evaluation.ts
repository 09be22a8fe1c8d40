// Prints, for each of eight random moves, the least bytes a call that evaluating it adds to the heap. Run by itself with
// `--expose-gc`: what else a process has run decides which calls the machine inlines, and so which numbers it boxes.
import { runToEnd } from "../../core/base/task.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import { randomMove } from "./moves.ts";

const CALLS = 20_000;
/** Compilers settle after some rounds, how many hangs on the machine: the best counts. */
const ROUNDS = 12;
const ENOUGH = Number(process.argv[2]);

const collect = (globalThis as { gc?: () => void }).gc;
if (!collect) throw new Error("run with --expose-gc");
const least: number[] = [];
for (let seed = 0; seed < 8; seed++) {
  const { move } = randomMove(seed);
  // The lens's own check of its distortion is measured with the lens.
  const trajectory = runToEnd(planTrajectory({ ...move, optics: { ...move.optics, distortion: undefined } }));
  const instant = trajectory.createInstant();
  let best = Infinity;
  for (let round = 0; round < ROUNDS && ENOUGH < best; round++) {
    collect();
    const before = process.memoryUsage().heapUsed;
    for (let i = 0; i < CALLS; i++) trajectory.at((trajectory.duration * i) / CALLS, instant);
    best = Math.min(best, (process.memoryUsage().heapUsed - before) / CALLS);
  }
  least.push(best);
}
console.log(JSON.stringify(least));
