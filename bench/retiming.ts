import { readdirSync, readFileSync } from "node:fs";
import { runToEnd } from "../core/base/task.ts";
import { resolveMove } from "../core/model/resolve-move.ts";
import { fastestOf } from "../core/motion/fastest.ts";
import { planTrajectory } from "../core/motion/plan.ts";
import type { ResolvedMove } from "../core/motion/resolved-move.ts";
import { stretchSegment } from "../core/motion/retime.ts";
import { percentile, times, type Figure } from "./measure.ts";

const FOLDER = "examples/moves";

/** The demo's moves, in the folder that the benchmark runs in. */
function demoMoves(): { readonly name: string; readonly move: ResolvedMove }[] {
  const files = readdirSync(FOLDER).filter((file) => file.endsWith(".move.yaml"));
  return files.sort().map((file) => {
    const { move, problems } = resolveMove(`${FOLDER}/${file}`, {
      read: (name) => ({ state: "text", text: readFileSync(name, "utf8") }),
    });
    if (!move) throw new Error(`${file} cannot be resolved: ${problems[0]?.message}`);
    return { name: file.replace(".move.yaml", ""), move };
  });
}

/** Milliseconds to find the fastest timing of each demo move, and how near it comes to the bound without jerk limits. */
export function benchFastest(): Figure[] {
  return demoMoves().map(({ name, move }) => {
    const trajectory = runToEnd(planTrajectory(move));
    const timing = runToEnd(fastestOf(trajectory));
    const spent = times(Array.from({ length: 3 }, () => () => void runToEnd(fastestOf(trajectory))));
    const { status, duration, lowerBound } = timing;
    const found = status === "timed" || status === "not-settled";
    return {
      name: `fastest timing of ${name}`,
      value: percentile(spent, 0.5),
      unit: "ms",
      facts: {
        status,
        written: `${shown(trajectory.duration)} s`,
        ...(found && {
          fastest: `${shown(duration)} s`,
          "without jerk limits": `${shown(lowerBound)} s`,
          ratio: shown(duration / lowerBound),
        }),
      },
    };
  });
}

/** Milliseconds to plan a demo move, and to find by how much its second segment must be stretched for tighter limits. */
export function benchStretch(): Figure[] {
  const all = demoMoves();
  const planned = all.flatMap(({ move }) => times([1, 2, 3].map(() => () => void runToEnd(planTrajectory(move)))));
  const factors: string[] = [];
  const stretched = all.flatMap(({ move }) => {
    const segment = { from: 1, to: 2 };
    const trajectory = runToEnd(planTrajectory(move));
    const [from, to] = [move.keys[1].time, move.keys[2].time];
    // Four fifths of the speeds that the segment takes as it is.
    const limits = trajectory.axes.flatMap((_, axis) => {
      const { low, high } = trajectory.extremes(axis, 1, from, to);
      const most = 0.8 * Math.max(-low.value, high.value);
      return 1e-3 < most ? [{ axis, order: 1 as const, most }] : [];
    });
    return times([() => factors.push(shown(runToEnd(stretchSegment(move, segment, limits)) ?? NaN))]);
  });
  const facts = { moves: all.length };
  return [
    figure("plan of a demo move", planned, facts),
    figure("stretch of a segment", stretched, { ...facts, factors: factors.join(" ") }),
  ];
}

function figure(name: string, spent: readonly number[], facts: Figure["facts"]): Figure {
  return {
    name,
    value: percentile(spent, 0.5),
    unit: "ms",
    facts: { ...facts, worst: Math.round(Math.max(...spent)) },
  };
}

function shown(value: number): string {
  return value.toFixed(3);
}
