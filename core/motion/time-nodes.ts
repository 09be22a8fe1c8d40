import { BASIS, writeSquare, type SquaredSpeed } from "./squared-speed.ts";

/** Fewest stretches between two knots. */
const FEWEST = 8;

/** Times [s] at ascending values of a path's parameter. */
export interface NodeTimes {
  readonly nodes: Float64Array;
  readonly times: Float64Array;
}

/**
 * Nodes for about `stretches` stretches, every knot among them: between two knots evenly in the parameter, or, once it is
 * about known how the time goes, evenly in the mean of both.
 */
export function sharedNodes(knots: readonly number[], stretches: number, known?: NodeTimes): Float64Array {
  const [first, last] = [knots[0], knots[knots.length - 1]];
  const scale = known ? (last - first) / (known.times[known.times.length - 1] - known.times[0]) : 0;
  const useful = Number.isFinite(scale) && known !== undefined;
  const even = useful ? known.nodes.map((u, i) => u - first + scale * known.times[i]) : undefined;
  const at = (u: number): number => (useful ? between(known.nodes, even!, u) : u);
  const when = (t: number): number => (useful ? between(even!, known.nodes, t) : t);
  const whole = at(last) - at(first);
  const nodes = [first];
  for (let k = 0; k + 1 < knots.length; k++) {
    const [from, to] = [at(knots[k]), at(knots[k + 1])];
    const parts = Math.max(FEWEST, Math.round((stretches * (to - from)) / whole));
    for (let i = 1; i < parts; i++) nodes.push(when(from + ((to - from) * i) / parts));
    nodes.push(knots[k + 1]);
  }
  return Float64Array.from(nodes);
}

/** Every stretch divided into `parts`. */
export function dividedNodes(nodes: Float64Array, parts: number): Float64Array {
  const n = nodes.length - 1;
  return Float64Array.from({ length: n * parts + 1 }, (_, i) => {
    const at = Math.floor(i / parts);
    return i % parts === 0 ? nodes[at] : nodes[at] + ((nodes[at + 1] - nodes[at]) * (i % parts)) / parts;
  });
}

/** y at `at`, straight between the x, which ascend. */
export function between(x: Float64Array, y: Float64Array, at: number): number {
  let low = 0;
  let high = x.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (x[middle] <= at) low = middle;
    else high = middle - 1;
  }
  return y[low] + ((y[low + 1] - y[low]) * (at - x[low])) / (x[low + 1] - x[low]);
}

/** Coefficients over other nodes that come close to `speed`: those of the parabola through each stretch. */
export function refitted(speed: SquaredSpeed, nodes: Float64Array): Float64Array {
  const n = nodes.length - 1;
  const c = new Float64Array(n + 2);
  const basis = new Float64Array(BASIS);
  const square = new Float64Array(3);
  const at = (u: number): number => {
    let i = 0;
    let high = speed.nodes.length - 2;
    while (i < high) {
      const middle = (i + high + 1) >> 1;
      if (speed.nodes[middle] <= u) i = middle;
      else high = middle - 1;
    }
    writeSquare(speed, i, (u - speed.nodes[i]) / (speed.nodes[i + 1] - speed.nodes[i]), basis, square);
    return square[0];
  };
  c[0] = at(nodes[0]);
  c[n + 1] = at(nodes[n]);
  for (let i = 0; i < n; i++) {
    const [from, to] = [at(nodes[i]), at(nodes[i + 1])];
    c[i + 1] = Math.max(0.2 * Math.min(from, to), 2 * at((nodes[i] + nodes[i + 1]) / 2) - (from + to) / 2);
  }
  return c;
}
