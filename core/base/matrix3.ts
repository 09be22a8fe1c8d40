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

/** a = a · (turn from column axis `u` to column axis `v`): columns u' = c u + s v, v' = c v - s u. */
export function turnColumns(a: Float64Array, i: number, u: number, v: number, c: number, s: number): void {
  for (let row = i; row < i + 9; row += 3) {
    const x = a[row + u];
    const y = a[row + v];
    a[row + u] = x * c + y * s;
    a[row + v] = y * c - x * s;
  }
}

/** a = a · (right-hand turn about the unit vector x, y, z with cosine c and sine s). */
export function turnAbout(a: Float64Array, i: number, x: number, y: number, z: number, c: number, s: number): void {
  const d = 1 - c;
  for (let row = i; row < i + 9; row += 3) {
    const p = a[row];
    const q = a[row + 1];
    const r = a[row + 2];
    const along = d * (p * x + q * y + r * z);
    // A row times R is c·row + (1-c)(row·axis) axis + s (row × axis).
    a[row] = c * p + along * x + s * (q * z - r * y);
    a[row + 1] = c * q + along * y + s * (r * x - p * z);
    a[row + 2] = c * r + along * z + s * (p * y - q * x);
  }
}
