/** Beyond this erf is 1 to the last bit. */
const ONE_FROM = 6;

/** erf(x) = 2/√π ∫₀ˣ exp(-s²) ds, to about 1e-15: the series 2/√π exp(-x²) Σ 2ⁿ x²ⁿ⁺¹ / (2n + 1)!!, whose terms are all of one sign. */
export function erf(x: number): number {
  const size = Math.abs(x);
  if (!(size < ONE_FROM)) return Math.sign(x);
  let term = size;
  let sum = size;
  for (let n = 1; term > 1e-17 * sum; n++) {
    term *= (2 * size * size) / (2 * n + 1);
    sum += term;
  }
  return Math.sign(x) * Math.min(1, (2 / Math.sqrt(Math.PI)) * Math.exp(-size * size) * sum);
}

/** Share of a normal distribution (0, 1) that lies below z. */
export const normalShare = (z: number): number => (1 + erf(z / Math.SQRT2)) / 2;
