import { solveHarmonic, solveQuadratic } from "./plain-equations.ts";

/** Two axes that move a point in a plane: two turns, a turn and a slide, or two slides. */
export type PairForm = "turns" | "turn-and-slide" | "slides";

/**
 * Where the point is in the plane, as complex numbers; x and y are the pair's values.
 * - turns: a + b e^(ix) + c e^(i(x + s y)), or a + b e^(ix) + c e^(i s y) when the second does not ride on the first;
 * - turn-and-slide: a + e^(ix) (b + c y), or a + b e^(ix) + c y;
 * - slides: a + b x + c y.
 */
export interface PlanePair {
  form: PairForm;
  /** Whether the second rides on the turn of the first. */
  rides: boolean;
  /** Sense of the second turn, 1 or -1. */
  sense: number;
  /** a, b and c: real and imaginary parts. Shape (6,). */
  readonly parts: Float64Array;
  readonly roots: Float64Array;
}

export function createPlanePair(): PlanePair {
  return { form: "turns", rides: true, sense: 1, parts: new Float64Array(6), roots: new Float64Array(2) };
}

/** Values at which the point is measured to find the constants: (0, 0), (first, 0) and (0, second). */
export function probeOf(form: PairForm, member: 0 | 1): number {
  if (form === "turns") return Math.PI;
  return form === "slides" || member === 1 ? 1 : Math.PI;
}

/** Finds the constants from the point at the three probes. Each is given by its two coordinates. */
export function fitPair(
  pair: PlanePair,
  zeroX: number,
  zeroY: number,
  firstX: number,
  firstY: number,
  secondX: number,
  secondY: number,
): void {
  const { parts, form, rides } = pair;
  const dx = firstX - zeroX;
  const dy = firstY - zeroY;
  const ex = secondX - zeroX;
  const ey = secondY - zeroY;
  if (form === "slides") {
    parts[2] = dx;
    parts[3] = dy;
    parts[4] = ex;
    parts[5] = ey;
    parts[0] = zeroX;
    parts[1] = zeroY;
    return;
  }
  // Half a turn takes b (and what rides on it) to its opposite.
  const half = form === "turns" ? -0.5 : 1;
  parts[4] = half * ex;
  parts[5] = half * ey;
  const turned = form === "turns" && rides;
  parts[2] = -0.5 * dx - (turned ? parts[4] : 0);
  parts[3] = -0.5 * dy - (turned ? parts[5] : 0);
  parts[0] = zeroX - parts[2] - (form === "turns" ? parts[4] : 0);
  parts[1] = zeroY - parts[3] - (form === "turns" ? parts[5] : 0);
}

/**
 * Values that bring the point to (x, y).
 *
 * @param nearest Where none do, gives those that come near.
 * @param out     Receives up to two pairs of values.
 * @returns How many pairs.
 */
export function solvePair(pair: PlanePair, x: number, y: number, nearest: boolean, out: Float64Array): number {
  const { parts, form, rides, sense, roots } = pair;
  const wx = x - parts[0];
  const wy = y - parts[1];
  const bx = parts[2];
  const by = parts[3];
  const cx = parts[4];
  const cy = parts[5];
  if (form === "slides") {
    const area = bx * cy - by * cx;
    if (Math.abs(area) < 1e-12) return 0;
    out[0] = (wx * cy - wy * cx) / area;
    out[1] = (bx * wy - by * wx) / area;
    return 1;
  }
  const bb = bx * bx + by * by;
  const cc = cx * cx + cy * cy;
  const ww = wx * wx + wy * wy;
  if (form === "turns") {
    // With d the turn of c against b: |w|² = |b + c e^(id)|².
    const found = solveHarmonic(bb + cc - ww, 2 * (bx * cx + by * cy), 2 * (by * cx - bx * cy), nearest, roots);
    for (let k = 0; k < found; k++) {
      const d = roots[k];
      const dc = Math.cos(d);
      const ds = Math.sin(d);
      const armX = bx + cx * dc - cy * ds;
      const armY = by + cx * ds + cy * dc;
      const first = Math.atan2(wy * armX - wx * armY, wx * armX + wy * armY);
      out[2 * k] = first;
      out[2 * k + 1] = sense * (rides ? d : first + d);
    }
    return found;
  }
  const found = rides
    ? solveQuadratic(bb - ww, 2 * (bx * cx + by * cy), cc, nearest, roots)
    : solveQuadratic(ww - bb, -2 * (wx * cx + wy * cy), cc, nearest, roots);
  for (let k = 0; k < found; k++) {
    const slide = roots[k];
    const fromX = rides ? bx + cx * slide : bx;
    const fromY = rides ? by + cy * slide : by;
    const toX = rides ? wx : wx - cx * slide;
    const toY = rides ? wy : wy - cy * slide;
    out[2 * k] = Math.atan2(toY * fromX - toX * fromY, toX * fromX + toY * fromY);
    out[2 * k + 1] = slide;
  }
  return found;
}
