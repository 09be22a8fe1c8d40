/**
 * A closed body of triangles that grows point by point and stays convex to rounding. Its room is fixed when it is made; it
 * is owned and reused by the caller. Corner k of face f is `corner[3 f + k]`, in the order that turns left as seen from
 * outside, and `beside[3 f + k]` is the face across its edge from corner k to the next.
 */
export interface Polytope {
  readonly most: number;
  points: number;
  /** Shape (most, 3): the points, and what each is the difference of. */
  readonly w: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  /** Faces are numbered below this; those that are not alive are free. */
  faces: number;
  readonly alive: Uint8Array;
  readonly corner: Int32Array;
  readonly beside: Int32Array;
  /** Shape (faces, 3): unit vectors outwards; zero for a face without area, which nothing can be outside of. */
  readonly normal: Float64Array;
  /** How far the plane of each face is from the origin along its normal [m]. */
  readonly offset: Float64Array;
  /** The faces that the last point made, and those that it took away. */
  readonly made: Int32Array;
  madeCount: number;
  readonly gone: Int32Array;
  goneCount: number;
  readonly rim: Rim;
}

/** The edges between what a point sees of the body and what it doesn't, and marks for finding them. */
interface Rim {
  count: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly outside: Int32Array;
  /** Number of the edge that begins at a point, for points that are marked with this round. */
  readonly startsAt: Int32Array;
  readonly pointRound: Int32Array;
  readonly faceRound: Int32Array;
  round: number;
}

/** @param most Points that it may have, 4 or more. */
export function createPolytope(most: number): Polytope {
  // A closed body of n corners has 2 n − 4 triangles.
  const faces = 2 * most;
  return {
    most,
    points: 0,
    w: new Float64Array(3 * most),
    a: new Float64Array(3 * most),
    b: new Float64Array(3 * most),
    faces: 0,
    alive: new Uint8Array(faces),
    corner: new Int32Array(3 * faces),
    beside: new Int32Array(3 * faces),
    normal: new Float64Array(3 * faces),
    offset: new Float64Array(faces),
    made: new Int32Array(faces),
    madeCount: 0,
    gone: new Int32Array(faces),
    goneCount: 0,
    rim: {
      count: 0,
      from: new Int32Array(3 * faces),
      to: new Int32Array(3 * faces),
      outside: new Int32Array(3 * faces),
      startsAt: new Int32Array(most),
      pointRound: new Int32Array(most),
      faceRound: new Int32Array(faces),
      round: 0,
    },
  };
}

/** Makes the body of the points 0 to 3, which are written already and do not lie in one plane. */
export function startPolytope(p: Polytope): void {
  const { w } = p;
  p.points = 4;
  p.faces = 4;
  const [ux, uy, uz] = [w[3] - w[0], w[4] - w[1], w[5] - w[2]];
  const [vx, vy, vz] = [w[6] - w[0], w[7] - w[1], w[8] - w[2]];
  const volume =
    (uy * vz - uz * vy) * (w[9] - w[0]) + (uz * vx - ux * vz) * (w[10] - w[1]) + (ux * vy - uy * vx) * (w[11] - w[2]);
  // As seen from outside, the face across from the last point turns left when the volume is below 0.
  const corners = volume < 0 ? [0, 1, 2, 0, 3, 1, 1, 3, 2, 2, 3, 0] : [0, 2, 1, 0, 1, 3, 1, 2, 3, 2, 0, 3];
  const beside = volume < 0 ? [1, 2, 3, 3, 2, 0, 1, 3, 0, 2, 1, 0] : [3, 2, 1, 0, 2, 3, 0, 3, 1, 0, 1, 2];
  for (let face = 0; face < 4; face++) {
    p.alive[face] = 1;
    for (let k = 3 * face; k < 3 * face + 3; k++) {
      p.corner[k] = corners[k];
      p.beside[k] = beside[k];
    }
    layPlane(p, face);
  }
}

/** How far a point is outside of a face's plane [m]. */
export function heightOver({ normal, offset }: Polytope, face: number, x: number, y: number, z: number): number {
  return normal[3 * face] * x + normal[3 * face + 1] * y + normal[3 * face + 2] * z - offset[face];
}

/**
 * Takes in the point that is written at index `p.points`.
 *
 * @param face  A face that the point is outside of.
 * @param slack What a point must be outside of a face by to count as outside [m].
 * @returns False when rounding leaves no clean rim around what the point sees, or there is no room: nothing is changed then.
 */
export function growPolytope(p: Polytope, face: number, slack: number): boolean {
  if (p.points === p.most || !findRim(p, face, slack)) return false;
  const { rim, corner, beside, gone, made } = p;
  const apex = p.points;
  p.points += 1;
  for (let i = 0; i < p.goneCount; i++) p.alive[gone[i]] = 0;
  p.madeCount = 0;
  let free = 0;
  for (let i = 0; i < rim.count; i++) {
    while (free < p.faces && p.alive[free] === 1) free += 1;
    made[i] = free;
    p.alive[free] = 1;
    p.faces = Math.max(p.faces, free + 1);
  }
  p.madeCount = rim.count;
  for (let i = 0; i < rim.count; i++) {
    const fresh = made[i];
    const outside = rim.outside[i];
    corner[3 * fresh] = rim.from[i];
    corner[3 * fresh + 1] = rim.to[i];
    corner[3 * fresh + 2] = apex;
    beside[3 * fresh] = outside;
    const next = made[rim.startsAt[rim.to[i]]];
    beside[3 * fresh + 1] = next;
    beside[3 * next + 2] = fresh;
    for (let k = 0; k < 3; k++) if (corner[3 * outside + k] === rim.to[i]) beside[3 * outside + k] = fresh;
    layPlane(p, fresh);
  }
  return true;
}

/** Walks over the faces that the new point sees, from one of them, and gathers the edges at their border: one closed ring. */
function findRim(p: Polytope, seed: number, slack: number): boolean {
  const { rim, corner, beside, gone, w } = p;
  const [x, y, z] = [w[3 * p.points], w[3 * p.points + 1], w[3 * p.points + 2]];
  rim.round += 1;
  rim.count = 0;
  gone[0] = seed;
  p.goneCount = 1;
  rim.faceRound[seed] = rim.round;
  for (let i = 0; i < p.goneCount; i++) {
    for (let k = 0; k < 3; k++) {
      const other = beside[3 * gone[i] + k];
      if (rim.faceRound[other] === rim.round || !(heightOver(p, other, x, y, z) > slack)) continue;
      rim.faceRound[other] = rim.round;
      gone[p.goneCount] = other;
      p.goneCount += 1;
    }
  }
  for (let i = 0; i < p.goneCount; i++) {
    for (let k = 0; k < 3; k++) {
      const at = 3 * gone[i] + k;
      if (rim.faceRound[beside[at]] === rim.round) continue;
      const from = corner[at];
      if (rim.pointRound[from] === rim.round) return false;
      rim.pointRound[from] = rim.round;
      rim.startsAt[from] = rim.count;
      rim.from[rim.count] = from;
      rim.to[rim.count] = corner[3 * gone[i] + ((k + 1) % 3)];
      rim.outside[rim.count] = beside[at];
      rim.count += 1;
    }
  }
  return rim.count >= 3 && isRing(rim);
}

function isRing({ count, to, startsAt, pointRound, round }: Rim): boolean {
  let edge = 0;
  for (let i = 1; i <= count; i++) {
    if (pointRound[to[edge]] !== round) return false;
    edge = startsAt[to[edge]];
    if (edge === 0) return i === count;
  }
  return false;
}

function layPlane({ corner, normal, offset, w }: Polytope, face: number): void {
  const i = 3 * corner[3 * face];
  const j = 3 * corner[3 * face + 1];
  const k = 3 * corner[3 * face + 2];
  const [ux, uy, uz] = [w[j] - w[i], w[j + 1] - w[i + 1], w[j + 2] - w[i + 2]];
  const [vx, vy, vz] = [w[k] - w[i], w[k + 1] - w[i + 1], w[k + 2] - w[i + 2]];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const share = size > 0 ? 1 / size : 0;
  normal[3 * face] = nx * share;
  normal[3 * face + 1] = ny * share;
  normal[3 * face + 2] = nz * share;
  offset[face] = (nx * w[i] + ny * w[i + 1] + nz * w[i + 2]) * share;
}
