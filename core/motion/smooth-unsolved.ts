import { keyedCurve, type CurveEnds } from "./keyed-curve.ts";
import { ROOM } from "./series.ts";
import { FOLLOWED, WIDTH, WITHOUT_SOLUTION, type SolvedPath } from "./solved-path.ts";

/**
 * Where an aim has no solution its axes run smoothly through the nearest values, and out of and into the solution on
 * either side: findings then name the aim, not a motion that nobody asked for.
 */
export function smoothUnsolved(path: SolvedPath): void {
  const { state } = path;
  for (let i = 0; i < state.length;) {
    let j = i;
    while (j < state.length && state[j] === WITHOUT_SOLUTION) j++;
    if (i < j) path.curves.forEach((_, u) => smoothRun(path, u, i, j));
    i = Math.max(j, i + 1);
  }
}

/** Pieces `first`..`beyond` - 1 of one unknown. */
function smoothRun(path: SolvedPath, u: number, first: number, beyond: number): void {
  const { times, state } = path;
  const ends = path.ends[u];
  const knots = [];
  for (let i = first; i <= beyond; i++) {
    const at = i < beyond ? 2 * i * ROOM : (2 * i - 1) * ROOM;
    knots.push({ time: times[i], value: ends[at], rest: false });
  }
  const rates = (at: number): CurveEnds["start"] => ({ speed: ends[at + 1], accel: 2 * ends[at + 2] });
  const curve = keyedCurve(knots, [], {
    start: 0 < first && state[first - 1] === FOLLOWED ? rates((2 * first - 1) * ROOM) : undefined,
    end: beyond < state.length && state[beyond] === FOLLOWED ? rates(2 * beyond * ROOM) : undefined,
  });
  // Knots too near in time to be told apart were joined: there is nothing to smooth then.
  if (curve.degree !== 0 && curve.times.length !== knots.length) return;
  const { coefficients } = path.curves[u];
  coefficients.fill(0, first * WIDTH, beyond * WIDTH);
  for (let i = first; i < beyond; i++) {
    if (curve.degree === 0) coefficients[i * WIDTH] = curve.coefficients[0];
    else for (let n = 0; n < 6; n++) coefficients[i * WIDTH + n] = curve.coefficients[(i - first) * 6 + n];
  }
}
