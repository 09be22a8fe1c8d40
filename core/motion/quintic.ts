/** Value, speed and acceleration at one end of a piece. Any one unit and its quotients by s and s². */
export interface EndState {
  readonly value: number;
  readonly speed: number;
  readonly accel: number;
}

/**
 * The quintic that meets both end states over `length` [s], in s = (t - start) / length: writes its six coefficients into
 * `out[at .. at + 6)`. From rest to rest it is the minimum-jerk curve 10 s³ - 15 s⁴ + 6 s⁵.
 */
export function writeQuintic(from: EndState, to: EndState, length: number, out: Float64Array, at: number): void {
  const v0 = from.speed * length;
  const v1 = to.speed * length;
  const a0 = from.accel * length * length;
  const a1 = to.accel * length * length;
  const d = to.value - from.value;
  out[at] = from.value;
  out[at + 1] = v0;
  out[at + 2] = a0 / 2;
  out[at + 3] = 10 * d - 6 * v0 - 4 * v1 - 1.5 * a0 + 0.5 * a1;
  out[at + 4] = -15 * d + 8 * v0 + 7 * v1 + 1.5 * a0 - a1;
  out[at + 5] = 6 * d - 3 * v0 - 3 * v1 - 0.5 * a0 + 0.5 * a1;
}
