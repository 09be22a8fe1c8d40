/**
 * A slope above this share of both neighbouring secants could make the curve between two rows overshoot: its control
 * points run straight from either row over 4/9 of the way, and must not pass each other.
 */
const STEEPEST = 9 / 8;

/**
 * Slopes at the rows of a table, for curves between them that rise where the values rise and never overshoot: of the
 * parabola through three rows, no steeper than `STEEPEST` times the flatter neighbouring secant, 0 where the values turn.
 * Values on a straight line get the slope of the line.
 *
 * @param x Ascending, shape (n,). A single row has slope 0.
 * @param y Shape (n,).
 */
export function monotoneSlopes(x: readonly number[], y: readonly number[]): number[] {
  const steps = x.slice(1).map((end, i) => end - x[i]);
  const secants = steps.map((step, i) => (y[i + 1] - y[i]) / step);
  const last = secants.length - 1;
  if (last < 0) return [0];
  if (last === 0) return [secants[0], secants[0]];
  return x.map((_, i) => {
    if (i === 0) return endSlope(steps[0], steps[1], secants[0], secants[1]);
    if (last < i) return endSlope(steps[last], steps[last - 1], secants[last], secants[last - 1]);
    const [a, b] = [secants[i - 1], secants[i]];
    if (a * b <= 0) return 0;
    const parabola = (steps[i] * a + steps[i - 1] * b) / (steps[i - 1] + steps[i]);
    return limited(parabola, Math.min(Math.abs(a), Math.abs(b)) * Math.sign(a));
  });
}

function endSlope(step: number, next: number, secant: number, beyond: number): number {
  return limited(secant + (step * (secant - beyond)) / (step + next), secant);
}

/** `slope` between 0 and STEEPEST · `secant`. */
function limited(slope: number, secant: number): number {
  if (slope * secant <= 0) return 0;
  return Math.min(Math.abs(slope), STEEPEST * Math.abs(secant)) * Math.sign(secant);
}
