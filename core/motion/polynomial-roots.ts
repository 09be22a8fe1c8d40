/**
 * Real roots of sum c[k] x^k within low..high, ascending, each once. Between roots of the derivative a polynomial is
 * monotone, so each root is bracketed and found to rounding; a root that only touches is found at the derivative's.
 *
 * @param c Degree at most about 10. All zero: no roots.
 */
export function rootsWithin(c: ArrayLike<number>, low: number, high: number): number[] {
  let degree = c.length - 1;
  while (0 < degree && c[degree] === 0) degree--;
  if (degree <= 0) return [];
  if (degree === 1) {
    const x = -c[0] / c[1];
    return low <= x && x <= high ? [x] : [];
  }
  const derivative: number[] = [];
  for (let k = 1; k <= degree; k++) derivative.push(k * c[k]);
  const ends = [low, ...rootsWithin(derivative, low, high), high];
  const noise = roundingOf(c, degree, Math.max(Math.abs(low), Math.abs(high)));
  const roots: number[] = [];
  const add = (x: number): void => {
    if (roots.length === 0 || roots[roots.length - 1] < x) roots.push(x);
  };
  for (let i = 0; i + 1 < ends.length; i++) {
    const [a, b] = [ends[i], ends[i + 1]];
    const [fa, fb] = [evaluate(c, degree, a), evaluate(c, degree, b)];
    if (Math.abs(fa) <= noise) add(a);
    if (noise < Math.abs(fa) && noise < Math.abs(fb) && fa < 0 !== fb < 0)
      add(bracketed(c, degree, derivative, a, b, fa));
    if (i + 2 === ends.length && Math.abs(fb) <= noise) add(b);
  }
  return roots;
}

/** Newton's method kept inside a bracket that shrinks at least by half every other round. */
function bracketed(
  c: ArrayLike<number>,
  degree: number,
  d: readonly number[],
  a: number,
  b: number,
  fa: number,
): number {
  let low = a;
  let high = b;
  let x = (a + b) / 2;
  for (let round = 0; round < 100; round++) {
    const f = evaluate(c, degree, x);
    if (f === 0) return x;
    if (f < 0 === fa < 0) low = x;
    else high = x;
    const slope = evaluate(d, degree - 1, x);
    const newton = x - f / slope;
    const next = low < newton && newton < high && round % 3 !== 2 ? newton : (low + high) / 2;
    if (next === x || !(low < next && next < high)) return x;
    if (Math.abs(next - x) <= 1e-16 * Math.abs(x)) return next;
    x = next;
  }
  return x;
}

function evaluate(c: ArrayLike<number>, degree: number, x: number): number {
  let value = c[degree];
  for (let k = degree - 1; 0 <= k; k--) value = value * x + c[k];
  return value;
}

/** Size of what rounding can make of a zero. */
function roundingOf(c: ArrayLike<number>, degree: number, x: number): number {
  let sum = 0;
  for (let k = degree; 0 <= k; k--) sum = sum * x + Math.abs(c[k]);
  return 4e-16 * sum;
}
