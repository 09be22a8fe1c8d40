/**
 * How fast a path is run through: b(u) = (du/dt)² as a quadratic spline with continuous first derivative over `nodes`. Each
 * stretch between two nodes is governed by three coefficients, those of its own number, the next and the one after.
 */
export interface SquaredSpeed {
  /** Ascending, shape (n + 1,). */
  readonly nodes: Float64Array;
  /** Shape (n + 2,). All alike give a constant. */
  readonly coefficients: Float64Array;
}

/** Numbers that `writeBasis` writes: three coefficients' parts in value, first and second derivative. */
export const BASIS = 9;

/** Parts of the three coefficients of `stretch` in b, b' and b'' at the share `s` of it, 0..1; shape (3, 3) row by row. */
export function writeBasis(nodes: Float64Array, stretch: number, s: number, out: Float64Array, at: number): void {
  const n = nodes.length - 1;
  const h = nodes[stretch + 1] - nodes[stretch];
  const left = nodes[stretch + 1] - nodes[Math.max(0, stretch - 1)];
  const right = nodes[Math.min(n, stretch + 2)] - nodes[stretch];
  const r = 1 - s;
  out[at] = (r * r * h) / left;
  out[at + 2] = (s * s * h) / right;
  out[at + 1] = 1 - out[at] - out[at + 2];
  out[at + 3] = (-2 * r) / left;
  out[at + 5] = (2 * s) / right;
  out[at + 4] = -out[at + 3] - out[at + 5];
  out[at + 6] = 2 / (h * left);
  out[at + 8] = 2 / (h * right);
  out[at + 7] = -out[at + 6] - out[at + 8];
}

/** b, b' and b'' at the share `s` of `stretch` into `out[0..2]`; `basis` is room for BASIS numbers. */
export function writeSquare(
  speed: SquaredSpeed,
  stretch: number,
  s: number,
  basis: Float64Array,
  out: Float64Array,
): void {
  writeBasis(speed.nodes, stretch, s, basis, 0);
  const c = speed.coefficients;
  for (let k = 0; k < 3; k++) {
    out[k] = basis[3 * k] * c[stretch] + basis[3 * k + 1] * c[stretch + 1] + basis[3 * k + 2] * c[stretch + 2];
  }
}

/** Gauss-Legendre abscissae and weights of 6 points on 0..1 (Abramowitz and Stegun, table 25.4). */
const GAUSS = [
  [0.0337652428984, 0.0856622461896],
  [0.1693953067669, 0.1803807865241],
  [0.3806904069584, 0.2339569672863],
  [0.6193095930416, 0.2339569672863],
  [0.8306046932331, 0.1803807865241],
  [0.9662347571016, 0.0856622461896],
] as const;

/** Time at each node [s], the first 0; Infinity from where the path is not run through. */
export function timesAtNodes(speed: SquaredSpeed): Float64Array {
  const { nodes } = speed;
  const times = new Float64Array(nodes.length);
  const basis = new Float64Array(BASIS);
  const square = new Float64Array(3);
  for (let i = 0; i + 1 < nodes.length; i++) {
    let sum = 0;
    for (const [s, weight] of GAUSS) {
      writeSquare(speed, i, s, basis, square);
      sum += 0 < square[0] ? weight / Math.sqrt(square[0]) : Infinity;
    }
    times[i + 1] = times[i] + sum * (nodes[i + 1] - nodes[i]);
  }
  return times;
}

/** b at each node. */
export function squaresAtNodes(speed: SquaredSpeed): Float64Array {
  const basis = new Float64Array(BASIS);
  const square = new Float64Array(3);
  const n = speed.nodes.length - 1;
  return speed.nodes.map((_, i) => {
    writeSquare(speed, Math.min(i, n - 1), i < n ? 0 : 1, basis, square);
    return square[0];
  });
}

/** Constant: the path run through `factor` times as slowly as its parameter says. */
export function evenSpeed(nodes: Float64Array, factor: number): SquaredSpeed {
  return { nodes, coefficients: new Float64Array(nodes.length + 1).fill(1 / factor ** 2) };
}

/** Slower by `factor` everywhere. */
export function slowed(speed: SquaredSpeed, factor: number): SquaredSpeed {
  return { nodes: speed.nodes, coefficients: speed.coefficients.map((c) => c / factor ** 2) };
}
