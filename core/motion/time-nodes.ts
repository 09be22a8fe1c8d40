import { BASIS, writeSquare, type SquaredSpeed } from "./squared-speed.ts";

/** Fewest stretches between two knots. */
const FEWEST = 8;

/** How close nodes should be: evenly in `even`, which ascends with the parameter. Both of one shape. */
export interface NodeSpacing {
  readonly nodes: Float64Array;
  readonly even: Float64Array;
}

/** Change of ln b over a path that counts as much as all of its time. */
const MUCH = 4;

/** Even in the mean of parameter and time; with `square` (b at the nodes) in how b grows and falls as well. */
export function spacingOf(nodes: Float64Array, times: Float64Array, square?: Float64Array): NodeSpacing {
  const n = nodes.length - 1;
  const changes = new Float64Array(n + 1);
  if (square) {
    for (let i = 0; i < n; i++) changes[i + 1] = changes[i] + Math.abs(Math.log(square[i + 1] / square[i]));
  }
  const perLength = 1 / (nodes[n] - nodes[0]);
  const perTime = 0 < times[n] && times[n] < Infinity ? 1 / times[n] : 0;
  const perChange = changes[n] < Infinity ? 1 / Math.max(MUCH, changes[n]) : 0;
  return {
    nodes,
    even: nodes.map((u, i) => (u - nodes[0]) * perLength + times[i] * perTime + changes[i] * perChange),
  };
}

/** Nodes for about `stretches` stretches, every knot among them: between two knots as `spacing` says, or evenly. */
export function sharedNodes(knots: readonly number[], stretches: number, spacing?: NodeSpacing): Float64Array {
  const at = (u: number): number => (spacing ? between(spacing.nodes, spacing.even, u) : u);
  const when = (t: number): number => (spacing ? between(spacing.even, spacing.nodes, t) : t);
  const whole = at(knots[knots.length - 1]) - at(knots[0]);
  const nodes = [knots[0]];
  for (let k = 0; k + 1 < knots.length; k++) {
    const [from, to] = [at(knots[k]), at(knots[k + 1])];
    const parts = Math.max(FEWEST, Math.round((stretches * (to - from)) / whole));
    for (let i = 1; i < parts; i++) nodes.push(when(from + ((to - from) * i) / parts));
    nodes.push(knots[k + 1]);
  }
  return Float64Array.from(nodes);
}

/** Stretches on which `value` is above `most` are cut in four, their neighbours in two. */
export function closerNodes(nodes: Float64Array, value: Float64Array, most: number): Float64Array {
  const closer = [nodes[0]];
  for (let i = 0; i + 1 < nodes.length; i++) {
    const near = most < Math.max(value[i - 1] ?? 0, value[i + 1] ?? 0);
    const parts = most < value[i] ? 4 : near ? 2 : 1;
    for (let k = 1; k <= parts; k++) {
      closer.push(k === parts ? nodes[i + 1] : nodes[i] + ((nodes[i + 1] - nodes[i]) * k) / parts);
    }
  }
  return Float64Array.from(closer);
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
