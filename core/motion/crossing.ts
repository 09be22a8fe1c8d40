const MOST_ROUNDS = 60;
/** Share of the time at which a crossing is known well enough. */
const CLOSE = 1e-14;

/**
 * Where a value that is monotone between two times passes zero: false position by Illinois's rule, a middle now and then
 * so that its end is sure. A dozen readings of the value where halving takes fifty.
 *
 * @param above Whether the value is above 0 at `a`, and not at `b`, or the other way round.
 * @returns The time on the side where it is above 0, next to the crossing.
 */
export function crossingTime(value: (t: number) => number, a: number, b: number, above: boolean): number {
  let [x, y] = [a, b];
  let [left, right] = [value(a), value(b)];
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const close = CLOSE * Math.max(Math.abs(x), Math.abs(y));
    const middle = x + (y - x) / 2;
    if (y - x <= 2 * close || !(x < middle && middle < y)) break;
    const even = x + ((y - x) * left) / (left - right);
    const t = round % 4 !== 0 && x < even && even < y ? Math.min(Math.max(even, x + close), y - close) : middle;
    const here = value(t);
    if (0 < here === above) {
      [x, left] = [t, here];
      right /= 2;
    } else {
      [y, right] = [t, here];
      left /= 2;
    }
  }
  return above ? x : y;
}
