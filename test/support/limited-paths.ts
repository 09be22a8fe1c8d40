// Paths of many axes for tests of timing: straight ones, and one that is published.
import { solveDense } from "../../core/base/linear.ts";
import { restedPath, type LimitedPath } from "../../core/motion/limited-path.ts";
import type { AxisLimits } from "../../core/rig/resolved-rig.ts";

/** A straight line that goes `travel` along each axis, from rest to rest. */
export function straightPath(travel: readonly number[], limits: readonly AxisLimits[]): LimitedPath {
  return restedPath({
    limits,
    knots: [0, 1],
    derive(_u, _side, out) {
      out.first.set(travel);
      out.second.fill(0);
      out.third.fill(0);
    },
  });
}

/*
 * The example "plot_kinematics" of TOPP-RA (Pham and Pham; github.com/hungpham2511/toppra, MIT): waypoints of seven axes
 * as numpy draws them from seed 9, and their limits.
 */
const WAYPOINTS = [
  [0.001108555, -0.2895441, -1.116066, -0.01288276, -0.3783615, -0.4811354, -1.517331],
  [-0.490872, -0.2406806, -0.6479475, 0.6358911, 1.740117, 0.2966822, 0.7075037],
  [1.822816, 0.430769, 1.54273, -0.9007212, -0.137125, 1.297579, 0.6752712],
  [0.03195812, 0.9181459, 0.3805095, 0.5163675, -0.3552395, 0.208777, 0.3284111],
  [-0.4982248, -2.091777, -0.08258774, 2.455183, -2.67211, -0.9132793, -0.2273144],
] as const;
const SPEEDS = [23.75348186, 24.07058348, 28.50400155, 10.78909635, 22.94233427, 22.76107969, 19.23395325];
const ACCELS = [10.10611885, 10.07714185, 10.33906283, 11.58909577, 10.32521209, 10.2774774, 10.70583391];

/** That path, a cubic spline without knots at the second and the last but one waypoint; `jerk` limits every axis. */
export function publishedPath(jerk?: number): LimitedPath {
  // Two cubics that share value, slope and curvature at the middle waypoint: p(x) = w2 + k0 x + k1 x² + k2 or k3 x³.
  const cubics = SPEEDS.map((_, axis) => {
    const places = [-0.5, -0.25, 0.25, 0.5];
    const rows = places.flatMap((x) => [x, x * x, x < 0 ? x ** 3 : 0, x < 0 ? 0 : x ** 3]);
    const k = Float64Array.from([0, 1, 3, 4], (i) => WAYPOINTS[i][axis] - WAYPOINTS[2][axis]);
    solveDense(Float64Array.from(rows), k, 4);
    return k;
  });
  return restedPath({
    limits: SPEEDS.map((speed, axis) => ({ speed, accel: ACCELS[axis], ...(jerk !== undefined && { jerk }) })),
    knots: [0, 0.5, 1],
    derive(u, side, out) {
      const x = u - 0.5;
      cubics.forEach((k, axis) => {
        const cube = x < 0 || (x === 0 && side === "left") ? k[2] : k[3];
        out.first[axis] = k[0] + 2 * k[1] * x + 3 * cube * x * x;
        out.second[axis] = 2 * k[1] + 6 * cube * x;
        out.third[axis] = 6 * cube;
      });
    },
  });
}
