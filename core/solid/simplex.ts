/**
 * Up to four points of the difference of two bodies, a − b, each with the points of the bodies that it comes from, and the
 * point of their hull that is nearest to the origin, as shares of the points. Owned and reused by the caller.
 */
export interface Simplex {
  count: number;
  /** Shape (4, 3): points of the difference. */
  readonly w: Float64Array;
  /** Shape (4, 3): where they are on each body. */
  readonly a: Float64Array;
  readonly b: Float64Array;
  /** Shape (4,): shares of the nearest point, of sum 1; those that are kept are above 0. */
  readonly share: Float64Array;
  /** Nearest point found so far while faces and edges are compared: the points it lies between, and their shares. */
  readonly best: { count: number; square: number; readonly slots: Int32Array; readonly shares: Float64Array };
}

export function createSimplex(): Simplex {
  return {
    count: 0,
    w: new Float64Array(12),
    a: new Float64Array(12),
    b: new Float64Array(12),
    share: new Float64Array(4),
    best: { count: 0, square: 0, slots: new Int32Array(4), shares: new Float64Array(4) },
  };
}

/**
 * Finds the point of the simplex that is nearest to the origin, and which of its points that one lies between: `best`.
 *
 * @returns Its squared distance, that of a point which is in the hull in fact: a simplex that is flat to rounding is looked
 *   at by its faces.
 */
export function findNearest(simplex: Simplex): number {
  const { best, count } = simplex;
  best.count = 0;
  best.square = Infinity;
  if (count === 1) tryPoint(simplex, 0);
  else if (count === 2) trySegment(simplex, 0, 1);
  else if (count === 3) tryTriangle(simplex, 0, 1, 2);
  else tryTetrahedron(simplex);
  return best.square;
}

/** The same by all faces and edges of a simplex, for one so thin that rounding hides which of them the origin is beyond. */
export function findThoroughly(simplex: Simplex): number {
  const { best, count } = simplex;
  best.count = 0;
  best.square = Infinity;
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; j++) {
      trySegment(simplex, i, j);
      for (let k = j + 1; k < count; k++) tryTriangle(simplex, i, j, k);
    }
  }
  return best.square;
}

/** Lets go of the points that the nearest one does not lie between. */
export function keepNearest(simplex: Simplex): void {
  const { best, w, a, b, share } = simplex;
  simplex.count = best.count;
  // Slots ascend, so that a point moves down only to a place that is free already.
  for (let i = 0; i < best.count; i++) {
    const from = 3 * best.slots[i];
    for (let k = 0; k < 3; k++) {
      w[3 * i + k] = w[from + k];
      a[3 * i + k] = a[from + k];
      b[3 * i + k] = b[from + k];
    }
    share[i] = best.shares[i];
  }
}

/** Takes a candidate when it is nearer than what is known. Its distance is computed from its shares, so it is true of them. */
function offer(
  s: Simplex,
  i: number,
  j: number,
  k: number,
  l: number,
  u: number,
  v: number,
  p: number,
  q: number,
): void {
  const { w, best } = s;
  const x = w[3 * i] * u + (v > 0 ? w[3 * j] * v : 0) + (p > 0 ? w[3 * k] * p : 0) + (q > 0 ? w[3 * l] * q : 0);
  const y =
    w[3 * i + 1] * u + (v > 0 ? w[3 * j + 1] * v : 0) + (p > 0 ? w[3 * k + 1] * p : 0) + (q > 0 ? w[3 * l + 1] * q : 0);
  const z =
    w[3 * i + 2] * u + (v > 0 ? w[3 * j + 2] * v : 0) + (p > 0 ? w[3 * k + 2] * p : 0) + (q > 0 ? w[3 * l + 2] * q : 0);
  const square = x * x + y * y + z * z;
  if (!(square < best.square)) return;
  best.square = square;
  best.slots[0] = i;
  best.shares[0] = u;
  best.count = 1;
  if (v > 0) add(best, j, v);
  if (p > 0) add(best, k, p);
  if (q > 0) add(best, l, q);
}

function add(best: Simplex["best"], slot: number, share: number): void {
  best.slots[best.count] = slot;
  best.shares[best.count] = share;
  best.count += 1;
}

const tryPoint = (s: Simplex, i: number): void => offer(s, i, i, i, i, 1, 0, 0, 0);

function trySegment(s: Simplex, i: number, j: number): void {
  const { w } = s;
  const ax = w[3 * i];
  const ay = w[3 * i + 1];
  const az = w[3 * i + 2];
  const x = w[3 * j] - ax;
  const y = w[3 * j + 1] - ay;
  const z = w[3 * j + 2] - az;
  const square = x * x + y * y + z * z;
  const along = -(ax * x + ay * y + az * z);
  if (!(along > 0)) tryPoint(s, i);
  else if (along >= square) tryPoint(s, j);
  else offer(s, i, j, i, i, 1 - along / square, along / square, 0, 0);
}

/** i < j < k. Where the foot of the origin lies outside, the edges that it lies beyond are looked at. */
function tryTriangle(s: Simplex, i: number, j: number, k: number): void {
  const { w } = s;
  const ax = w[3 * i];
  const ay = w[3 * i + 1];
  const az = w[3 * i + 2];
  const bx = w[3 * j] - ax;
  const by = w[3 * j + 1] - ay;
  const bz = w[3 * j + 2] - az;
  const cx = w[3 * k] - ax;
  const cy = w[3 * k + 1] - ay;
  const cz = w[3 * k + 2] - az;
  const nx = by * cz - bz * cy;
  const ny = bz * cx - bx * cz;
  const nz = bx * cy - by * cx;
  const area = nx * nx + ny * ny + nz * nz;
  if (!(area > 0)) {
    trySegment(s, i, j);
    trySegment(s, i, k);
    trySegment(s, j, k);
    return;
  }
  // The origin's foot as seen from the first corner, so that small triangles far away keep their digits.
  const height = (ax * nx + ay * ny + az * nz) / area;
  const px = height * nx - ax;
  const py = height * ny - ay;
  const pz = height * nz - az;
  const ofC = (nx * (by * pz - bz * py) + ny * (bz * px - bx * pz) + nz * (bx * py - by * px)) / area;
  const ofB = (nx * (py * cz - pz * cy) + ny * (pz * cx - px * cz) + nz * (px * cy - py * cx)) / area;
  const ofA = 1 - ofB - ofC;
  if (ofA > 0 && ofB > 0 && ofC > 0) {
    offer(s, i, j, k, k, ofA, ofB, ofC, 0);
    return;
  }
  if (!(ofC > 0)) trySegment(s, i, j);
  if (!(ofB > 0)) trySegment(s, i, k);
  if (!(ofA > 0)) trySegment(s, j, k);
}

function tryTetrahedron(s: Simplex): void {
  const { w, best } = s;
  const ax = w[0];
  const ay = w[1];
  const az = w[2];
  const bx = w[3] - ax;
  const by = w[4] - ay;
  const bz = w[5] - az;
  const cx = w[6] - ax;
  const cy = w[7] - ay;
  const cz = w[8] - az;
  const dx = w[9] - ax;
  const dy = w[10] - ay;
  const dz = w[11] - az;
  const cdx = cy * dz - cz * dy;
  const cdy = cz * dx - cx * dz;
  const cdz = cx * dy - cy * dx;
  const volume = bx * cdx + by * cdy + bz * cdz;
  let ofB = -1;
  let ofC = -1;
  let ofD = -1;
  let ofA = -1;
  if (volume !== 0) {
    ofB = -(ax * cdx + ay * cdy + az * cdz) / volume;
    ofC = -(ax * (dy * bz - dz * by) + ay * (dz * bx - dx * bz) + az * (dx * by - dy * bx)) / volume;
    ofD = -(ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / volume;
    ofA = 1 - ofB - ofC - ofD;
  }
  if (ofA > 0 && ofB > 0 && ofC > 0 && ofD > 0) {
    offer(s, 0, 1, 2, 3, ofA, ofB, ofC, ofD);
    // Of a thin one the shares may be noise: its faces are looked at as well, unless it is at the origin to rounding.
    const size = Math.max(bx * bx + by * by + bz * bz, cx * cx + cy * cy + cz * cz, dx * dx + dy * dy + dz * dz);
    if (best.square <= 1e-24 * size) return;
    ofA = ofB = ofC = ofD = -1;
  }
  if (!(ofD > 0)) tryTriangle(s, 0, 1, 2);
  if (!(ofC > 0)) tryTriangle(s, 0, 1, 3);
  if (!(ofB > 0)) tryTriangle(s, 0, 2, 3);
  if (!(ofA > 0)) tryTriangle(s, 1, 2, 3);
}
