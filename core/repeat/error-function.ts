/** Beyond this erf is 1 to the last bit. */
const ONE_FROM = 6;

/** From here on the continued fraction needs fewer terms than the series. */
const FAR = 2.5;

/** Terms of it that give 1e-15 from there on. */
const TERMS = 40;

/**
 * erf(x) = 2/√π ∫₀ˣ exp(-s²) ds, to about 1e-15. Near 0 by the series 2/√π exp(-x²) Σ 2ⁿ x²ⁿ⁺¹ / (2n + 1)!!, whose terms are
 * all of one sign; farther off by 1 - exp(-x²) / √π · 1/(x + 1/2/(x + 1/(x + 3/2/(x + ..)))).
 */
export function erf(x: number): number {
  const size = Math.abs(x);
  if (!(size < ONE_FROM)) return Math.sign(x);
  if (FAR < size) {
    let fraction = size;
    for (let n = TERMS; 0 < n; n--) fraction = size + n / 2 / fraction;
    return Math.sign(x) * (1 - Math.exp(-size * size) / (Math.sqrt(Math.PI) * fraction));
  }
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
