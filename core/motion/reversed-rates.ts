import { sharePerLimit } from "./sample-row.ts";
import type { Take } from "./take.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

/** Turns the rates of an instant into those of the same pose passed backwards at `share` of the speed. */
export function reverseRates(out: Instant, share: number): void {
  const [first, second, third] = [-share, share ** 2, -(share ** 3)];
  scale(out.speed, first);
  scale(out.accel, second);
  scale(out.jerk, third);
  scale(out.velocity, first);
  scale(out.spin, first);
  scale(out.targetVelocity, first);
  for (const rates of [out.focalRates, out.irisRates, out.focusRates]) {
    rates[0] *= first;
    rates[1] *= second;
    rates[2] *= third;
  }
}

function scale(rates: Float64Array, by: number): void {
  for (let i = 0; i < rates.length; i++) rates[i] *= by;
}

/** Makes row `index` of a take, written from the way there, one of the way back: its rates and their shares of limits. */
export function reverseRow({ move }: Trajectory, share: number): (row: Take, index: number) => void {
  const perLimit = sharePerLimit(move);
  const count = move.axes.length;
  return (row, index) => {
    let most = 0;
    for (let i = 0; i < count; i++) {
      const at = count * index + i;
      row.speed[at] *= -share;
      row.accel[at] *= share ** 2;
      row.jerk[at] *= -(share ** 3);
      most = Math.max(
        most,
        Math.abs(row.speed[at]) * perLimit[3 * i],
        Math.abs(row.accel[at]) * perLimit[3 * i + 1],
        Math.abs(row.jerk[at]) * perLimit[3 * i + 2],
      );
    }
    row.share[index] = most;
  };
}
