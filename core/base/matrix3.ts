/*
 * Row-major 3 x 3 matrices in flat arrays, for loops that allocate nothing. `a` and `i` are an array and the place in it
 * where a matrix or vector begins.
 */

/** out = a · b. `out` may be `a`, not `b`. */
export function multiplyMatrices(
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
  out: Float64Array,
  k: number,
): void {
  const b00 = b[j];
  const b01 = b[j + 1];
  const b02 = b[j + 2];
  const b10 = b[j + 3];
  const b11 = b[j + 4];
  const b12 = b[j + 5];
  const b20 = b[j + 6];
  const b21 = b[j + 7];
  const b22 = b[j + 8];
  for (let row = 0; row < 9; row += 3) {
    const x = a[i + row];
    const y = a[i + row + 1];
    const z = a[i + row + 2];
    out[k + row] = x * b00 + y * b10 + z * b20;
    out[k + row + 1] = x * b01 + y * b11 + z * b21;
    out[k + row + 2] = x * b02 + y * b12 + z * b22;
  }
}

/** out = start + a · v. `out` may be `start`. */
export function transformPoint(
  start: Float64Array,
  s: number,
  a: Float64Array,
  i: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
  k: number,
): void {
  out[k] = start[s] + a[i] * x + a[i + 1] * y + a[i + 2] * z;
  out[k + 1] = start[s + 1] + a[i + 3] * x + a[i + 4] * y + a[i + 5] * z;
  out[k + 2] = start[s + 2] + a[i + 6] * x + a[i + 7] * y + a[i + 8] * z;
}
