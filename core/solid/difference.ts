import type { Convex } from "./convex.ts";
import type { Simplex } from "./simplex.ts";
import { supportOf } from "./support.ts";

/** Two bodies placed to each other, seen from the first one's frame: sizes stay small wherever in the set they are. */
export interface Placing {
  /** The second body's rotation and position in the first one's frame, (9,) and (3,). */
  readonly turn: Float64Array;
  readonly at: Float64Array;
  /** The first body's rotation and position in the set. */
  readonly rotation: Float64Array;
  readonly position: Float64Array;
  /** From the centre of the first body's ball to that of the second's, in the first one's frame [m]. */
  readonly towards: Float64Array;
  /** Of those centres; once the cores are looked at, theirs [m]. */
  distance: number;
  /** Nearest point of the difference and the two points that it comes from, (9,). */
  readonly nearest: Float64Array;
  readonly scratch: Float64Array;
}

export function createPlacing(): Placing {
  return {
    turn: new Float64Array(9),
    at: new Float64Array(3),
    rotation: new Float64Array(9),
    position: new Float64Array(3),
    towards: new Float64Array(3),
    distance: 0,
    nearest: new Float64Array(9),
    scratch: new Float64Array(3),
  };
}

export function placeDifference(
  out: Placing,
  a: Convex,
  ra: ArrayLike<number>,
  pa: ArrayLike<number>,
  b: Convex,
  rb: ArrayLike<number>,
  pb: ArrayLike<number>,
): void {
  const { turn, at, rotation, position, towards } = out;
  const x = pb[0] - pa[0];
  const y = pb[1] - pa[1];
  const z = pb[2] - pa[2];
  for (let i = 0; i < 3; i++) {
    // Row i of the first rotation's transpose is its column i.
    const u = ra[i];
    const v = ra[i + 3];
    const w = ra[i + 6];
    turn[3 * i] = u * rb[0] + v * rb[3] + w * rb[6];
    turn[3 * i + 1] = u * rb[1] + v * rb[4] + w * rb[7];
    turn[3 * i + 2] = u * rb[2] + v * rb[5] + w * rb[8];
    at[i] = u * x + v * y + w * z;
    rotation[3 * i] = ra[3 * i];
    rotation[3 * i + 1] = ra[3 * i + 1];
    rotation[3 * i + 2] = ra[3 * i + 2];
    position[i] = pa[i];
  }
  const m = b.centre;
  for (let i = 0; i < 3; i++) {
    towards[i] = at[i] + turn[3 * i] * m[0] + turn[3 * i + 1] * m[1] + turn[3 * i + 2] * m[2] - a.centre[i];
  }
  out.distance = Math.sqrt(towards[0] * towards[0] + towards[1] * towards[1] + towards[2] * towards[2]);
}

/** Writes the point of a − b (cores) that lies farthest along (x, y, z), in the first body's frame, to a slot. */
export function supportDifference(
  { turn, at, scratch }: Placing,
  a: Convex,
  b: Convex,
  x: number,
  y: number,
  z: number,
  out: Pick<Simplex, "w" | "a" | "b">,
  slot: number,
): void {
  const i = 3 * slot;
  supportOf(a, x, y, z, out.a, i);
  supportOf(
    b,
    -(turn[0] * x + turn[3] * y + turn[6] * z),
    -(turn[1] * x + turn[4] * y + turn[7] * z),
    -(turn[2] * x + turn[5] * y + turn[8] * z),
    scratch,
    0,
  );
  const u = scratch[0];
  const v = scratch[1];
  const w = scratch[2];
  out.b[i] = at[0] + turn[0] * u + turn[1] * v + turn[2] * w;
  out.b[i + 1] = at[1] + turn[3] * u + turn[4] * v + turn[5] * w;
  out.b[i + 2] = at[2] + turn[6] * u + turn[7] * v + turn[8] * w;
  out.w[i] = out.a[i] - out.b[i];
  out.w[i + 1] = out.a[i + 1] - out.b[i + 1];
  out.w[i + 2] = out.a[i + 2] - out.b[i + 2];
}
