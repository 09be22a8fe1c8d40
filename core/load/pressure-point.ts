import type { BaseFrame } from "../rig/chain.ts";
import { movePoint, type LinkMotion, type PointMotion } from "../rig/link-motion.ts";
import { GRAVITY, type MassPoints } from "./mass-points.ts";

/**
 * The pull of gravity and inertia on what stands on the feet, in the feet's frame: the base's, or that of a link that rolls
 * along, its origin brought down to the plane of the floor. Apart for gravity and for the accelerations, as these go with
 * the square of the speed at which a move is played.
 */
export interface Pull {
  /** [N] along x, y, z, then the moment about the frame's origin [N·m], shape (6,). */
  readonly gravity: Float64Array;
  readonly inertia: Float64Array;
}

export const createPull = (): Pull => ({ gravity: new Float64Array(6), inertia: new Float64Array(6) });

/**
 * Sums the pull on all masses from link `feet` on; those before it do not rest on these feet. Allocates nothing.
 *
 * @param feet  Joint index of the link that carries the feet, -1 for the base.
 * @param point Room for one point.
 */
export function writePull(
  base: BaseFrame,
  motion: LinkMotion,
  points: MassPoints,
  feet: number,
  point: PointMotion,
  out: Pull,
): void {
  const { gravity: g, inertia: f } = out;
  const { position: p, acceleration: a } = point;
  const r = feet < 0 ? base.rotation : motion.pose.rotations;
  const start = feet < 0 ? base.position : motion.pose.positions;
  const i3 = feet < 0 ? 0 : 3 * feet;
  const i9 = feet < 0 ? 0 : 9 * feet;
  // The base's z is the feet's z too: nothing between them tilts.
  const [zx, zy, zz] = [r[i9 + 2], r[i9 + 5], r[i9 + 8]];
  const height =
    zx * (start[i3] - base.position[0]) +
    zy * (start[i3 + 1] - base.position[1]) +
    zz * (start[i3 + 2] - base.position[2]);
  const ox = start[i3] - height * zx;
  const oy = start[i3 + 1] - height * zy;
  const oz = start[i3 + 2] - height * zz;
  g.fill(0);
  f.fill(0);
  for (let k = 0; k < points.count; k++) {
    if (points.link[k] < feet) continue;
    movePoint(base, motion, points.link[k], points.at, 3 * k, point);
    const m = points.mass[k];
    const dx = p[0] - ox;
    const dy = p[1] - oy;
    const dz = p[2] - oz;
    const w = -m * GRAVITY;
    g[2] += w;
    g[3] += dy * w;
    g[4] -= dx * w;
    const fx = -m * a[0];
    const fy = -m * a[1];
    const fz = -m * a[2];
    f[0] += fx;
    f[1] += fy;
    f[2] += fz;
    f[3] += dy * fz - dz * fy;
    f[4] += dz * fx - dx * fz;
    f[5] += dx * fy - dy * fx;
  }
  turnBack(r, i9, g);
  turnBack(r, i9, f);
}

/** Both vectors of a pull from the set's directions to those of the feet. */
function turnBack(r: Float64Array, i: number, v: Float64Array): void {
  for (let k = 0; k < 6; k += 3) {
    const x = v[k];
    const y = v[k + 1];
    const z = v[k + 2];
    v[k] = r[i] * x + r[i + 3] * y + r[i + 6] * z;
    v[k + 1] = r[i + 1] * x + r[i + 4] * y + r[i + 7] * z;
    v[k + 2] = r[i + 2] * x + r[i + 5] * y + r[i + 8] * z;
  }
}

/**
 * How hard the feet press on the floor [N]; 0 or less where the rig would lift off.
 *
 * @param inertia Share of the accelerations' pull that counts: 1 as the move is played, 0 for standing still.
 */
export const pressOf = ({ gravity: g, inertia: f }: Pull, inertia: number): number => -(g[2] + inertia * f[2]);

/**
 * The zero-moment point: where one force on the floor would hold the rig (Vukobratović and Borovac, 2004; Kajita and
 * others, 2003: x = Σ m((z̈ + g)x - ẍz) / Σ m(z̈ + g) on level ground). Writes x and y in the feet's frame [m] into `out`;
 * not finite where nothing presses.
 */
export function writePressurePoint({ gravity: g, inertia: f }: Pull, inertia: number, out: Float64Array): void {
  const down = g[2] + inertia * f[2];
  out[0] = -(g[4] + inertia * f[4]) / down;
  out[1] = (g[3] + inertia * f[3]) / down;
}
