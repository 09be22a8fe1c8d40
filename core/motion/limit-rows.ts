import type { Task } from "../base/task.ts";
import { createRates, type LimitedPath } from "./limited-path.ts";
import { BASIS, writeBasis } from "./squared-speed.ts";

/** Points of each stretch at which the limits are asked for: its beginning, middle and end. */
export const POINTS = 3;

/**
 * What the limits of a path ask of b = (du/dt)² at three points of every stretch between two nodes. With f a row's number
 * times (b, b', b''):
 *
 *     q̇ = q' √b           cap · b ≤ 1
 *     q̈ = q'' b + q' b'/2                             |f| ≤ 1
 *     q⃛ = √b (q''' b + 3/2 q'' b' + q' b''/2)         |f| ≤ 1 / √b
 */
export interface LimitRows {
  readonly nodes: Float64Array;
  /** `BASIS` numbers a point, shape (points, 3, 3). */
  readonly basis: Float64Array;
  /** Share of each point in an integral over u (Simpson's rule), shape (points,). */
  readonly weight: Float64Array;
  /** Highest q'² over the squared speed limit; 0 where none is given. Shape (points,). */
  readonly cap: Float64Array;
  /** Row from which a point's rows begin, shape (points + 1,). */
  readonly accelFrom: Int32Array;
  /** Shape (rows, 2): numbers of b and b'. */
  readonly accel: Float64Array;
  readonly jerkFrom: Int32Array;
  /** Shape (rows, 3): numbers of b, b' and b''. */
  readonly jerk: Float64Array;
  /** Inequalities in all. */
  readonly count: number;
}

/** A row this small never decides. */
const NOTHING = 1e-14;
/** Stretches between two yields. */
const SLICE = 32;

/** @param nodes Ascending, every knot of the path among them. */
export function* limitRows(path: LimitedPath, nodes: Float64Array): Task<LimitRows> {
  const n = nodes.length - 1;
  const points = POINTS * n;
  const basis = new Float64Array(points * BASIS);
  const weight = new Float64Array(points);
  const cap = new Float64Array(points);
  const accelFrom = new Int32Array(points + 1);
  const jerkFrom = new Int32Array(points + 1);
  const accel: number[] = [];
  const jerk: number[] = [];
  const rates = createRates(path.limits.length);
  let count = 0;
  for (let i = 0; i < n; i++) {
    const h = nodes[i + 1] - nodes[i];
    for (let k = 0; k < POINTS; k++) {
      const p = POINTS * i + k;
      const u = k === 0 ? nodes[i] : k === 1 ? nodes[i] + h / 2 : nodes[i + 1];
      path.derive(u, k === 2 ? "left" : "right", rates);
      writeBasis(nodes, i, k / 2, basis, p * BASIS);
      weight[p] = (k === 1 ? 4 : 1) * (h / 6);
      accelFrom[p] = accel.length / 2;
      jerkFrom[p] = jerk.length / 3;
      path.limits.forEach((limit, axis) => {
        const [d1, d2, d3] = [rates.first[axis], rates.second[axis], rates.third[axis]];
        if (limit.speed !== undefined) cap[p] = Math.max(cap[p], (d1 / limit.speed) ** 2);
        if (limit.accel !== undefined && NOTHING < Math.abs(d1) + Math.abs(d2)) {
          accel.push(d2 / limit.accel, d1 / (2 * limit.accel));
        }
        if (limit.jerk !== undefined && NOTHING < Math.abs(d1) + Math.abs(d2) + Math.abs(d3)) {
          jerk.push(d3 / limit.jerk, (1.5 * d2) / limit.jerk, d1 / (2 * limit.jerk));
        }
      });
      if (0 < cap[p]) count += 1;
    }
    if (i % SLICE === 0) yield;
  }
  accelFrom[points] = accel.length / 2;
  jerkFrom[points] = jerk.length / 3;
  count += accel.length + (2 * jerk.length) / 3;
  return {
    nodes,
    basis,
    weight,
    cap,
    accelFrom,
    accel: Float64Array.from(accel),
    jerkFrom,
    jerk: Float64Array.from(jerk),
    count,
  };
}
