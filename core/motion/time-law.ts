import { createRates, type LimitedPath } from "./limited-path.ts";
import { lengthRate, unitOf } from "./path-length.ts";
import type { ReachableSpeeds } from "./reachable-speeds.ts";
import { BASIS, timesAtNodes, writeSquare, type SquaredSpeed } from "./squared-speed.ts";
import type { NodeTimes } from "./time-nodes.ts";

/** When each place of a path is passed. */
export interface TimeLaw extends NodeTimes {
  /** Whether accelerations are continuous, so that jerks are finite. */
  readonly smooth: boolean;
  /**
   * (du/dt)² and its first and second derivative by u at the share `s` of a stretch into `out[0..2]`; the second is 0 for a
   * law that is not smooth.
   */
  squareAt(stretch: number, s: number, out: Float64Array): void;
}

export function lawOfSpeed(speed: SquaredSpeed): TimeLaw {
  const basis = new Float64Array(BASIS);
  return {
    nodes: speed.nodes,
    times: timesAtNodes(speed),
    smooth: true,
    squareAt: (stretch, s, out) => writeSquare(speed, stretch, s, basis, out),
  };
}

/** The path run through `factor` times as slowly as its parameter says. */
export function evenLaw(nodes: Float64Array, factor: number): TimeLaw {
  return lawOfSpeed({ nodes, coefficients: new Float64Array(nodes.length + 1).fill(1 / factor ** 2) });
}

/** Not defined where the path stands. */
export function lawOfReachable(path: LimitedPath, { measure, square, times }: ReachableSpeeds): TimeLaw {
  const { nodes } = measure;
  const units = path.limits.map(unitOf);
  const rates = createRates(units.length);
  return {
    nodes,
    times,
    smooth: false,
    squareAt(stretch, s, out) {
      const [from, to] = [measure.length[stretch], measure.length[stretch + 1]];
      const u = nodes[stretch] + s * (nodes[stretch + 1] - nodes[stretch]);
      path.derive(u, s < 1 ? "right" : "left", rates);
      const rate = lengthRate(rates, units);
      let growth = 0;
      for (let i = 0; i < units.length; i++) growth += (rates.first[i] / units[i]) * (rates.second[i] / units[i]);
      const middle = measure.middle[stretch];
      // σ over the stretch as the parabola through its three known places.
      const bow = 4 * (middle - (from + to) / 2);
      const at = from + s * (to - from) + bow * s * (1 - s);
      const slope = (square[stretch + 1] - square[stretch]) / (to - from);
      const along = Math.max(0, square[stretch] + slope * (at - from));
      out[0] = along / rate ** 2;
      out[1] = slope / rate - (2 * along * growth) / rate ** 4;
      out[2] = 0;
    },
  };
}

/** The law slowed down evenly. */
export function slowed(law: TimeLaw, factor: number): TimeLaw {
  return {
    ...law,
    times: law.times.map((t) => t * factor),
    squareAt(stretch, s, out) {
      law.squareAt(stretch, s, out);
      for (let k = 0; k < 3; k++) out[k] /= factor * factor;
    },
  };
}
