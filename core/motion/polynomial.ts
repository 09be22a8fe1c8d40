/** Value at `s` of the polynomial with coefficients `c`, lowest first. */
export function polynomialAt(c: readonly number[], s: number): number {
  let value = 0;
  for (let n = c.length - 1; 0 <= n; n--) value = value * s + c[n];
  return value;
}

/** Coefficients of its derivative by s. */
export function derivedOnce(c: readonly number[]): number[] {
  return c.length <= 1 ? [0] : c.slice(1).map((each, n) => each * (n + 1));
}
