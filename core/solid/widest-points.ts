/** The points without those that stand twice, to the last bit, in the order of their first. Shape (n, 3). */
export function distinctPoints(points: ArrayLike<number>): Float64Array {
  const all = Float64Array.from(points, (value) => value + 0);
  const bits = new Uint32Array(all.buffer);
  const count = all.length / 3;
  let room = 16;
  while (room < 2 * count) room *= 2;
  const table = new Int32Array(room).fill(-1);
  const same = (i: number, j: number): boolean =>
    all[3 * i] === all[3 * j] && all[3 * i + 1] === all[3 * j + 1] && all[3 * i + 2] === all[3 * j + 2];
  let kept = 0;
  for (let i = 0; i < count; i++) {
    let hash = 0;
    for (let k = 6 * i; k < 6 * i + 6; k++) hash = Math.imul(hash ^ bits[k], 0x9e3779b1) ^ (hash >>> 15);
    let at = (hash ^ (hash >>> 13)) & (room - 1);
    while (table[at] >= 0 && !same(table[at], i)) at = (at + 1) & (room - 1);
    if (table[at] >= 0) continue;
    table[at] = kept;
    all.copyWithin(3 * kept, 3 * i, 3 * i + 3);
    kept += 1;
  }
  return all.slice(0, 3 * kept);
}

/**
 * Up to four points that span much of what all of them span: two far apart, the one farthest from their line, the one
 * farthest from the plane of the three. Fewer where the points lie on a plane, a line or one place, as far as `relative`
 * of their size tells.
 */
export function widestPoints(
  points: Float64Array,
  relative: number,
): { readonly size: number; readonly corners: readonly number[] } {
  const from = farthest(points, distanceTo(points, 0)).at;
  const { at: to, value: size } = farthest(points, distanceTo(points, from));
  if (!(size > 0)) return { size, corners: [from] };
  const slack = relative * size;
  const [ux, uy, uz] = [0, 1, 2].map((k) => (points[3 * to + k] - points[3 * from + k]) / size);
  const line = farthest(points, (x, y, z) => {
    const [px, py, pz] = [x - points[3 * from], y - points[3 * from + 1], z - points[3 * from + 2]];
    return Math.hypot(uy * pz - uz * py, uz * px - ux * pz, ux * py - uy * px);
  });
  if (!(line.value > slack)) return { size, corners: [from, to] };
  const [vx, vy, vz] = [0, 1, 2].map((k) => points[3 * line.at + k] - points[3 * from + k]);
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const across = Math.hypot(nx, ny, nz);
  const plane = farthest(points, (x, y, z) => {
    const [px, py, pz] = [x - points[3 * from], y - points[3 * from + 1], z - points[3 * from + 2]];
    return Math.abs(nx * px + ny * py + nz * pz) / across;
  });
  const corners = [from, to, line.at];
  return { size, corners: plane.value > slack ? [...corners, plane.at] : corners };
}

function distanceTo(points: Float64Array, at: number): (x: number, y: number, z: number) => number {
  return (x, y, z) => Math.hypot(x - points[3 * at], y - points[3 * at + 1], z - points[3 * at + 2]);
}

function farthest(
  points: Float64Array,
  measure: (x: number, y: number, z: number) => number,
): { readonly at: number; readonly value: number } {
  let at = 0;
  let value = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    const here = measure(points[i], points[i + 1], points[i + 2]);
    if (!(here > value)) continue;
    value = here;
    at = i / 3;
  }
  return { at, value };
}
